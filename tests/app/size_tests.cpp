#include "app/size_search.hpp"
#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <random>
#include <set>

using namespace ribbay;
using Json = nlohmann::json;

namespace {

const std::string kFirstTry = RIBBAY_SOURCE_DIR "/params/marsh/marsh_first_try.toml";

void in_turn(std::size_t count, const std::function<void(std::size_t)>& work) {
  for (std::size_t i = 0; i < count; ++i) work(i);
}

SizeFound search(const SizeRange& range, const std::set<Tick>& passing) {
  const Judge judge = [&](Tick value) {
    Findings findings;
    if (!passing.contains(value)) {
      findings.emplace_back().code = "fails at " + std::to_string(value);
    }
    return findings;
  };
  return find_size(range, judge, in_turn);
}

std::set<Tick> ticks(Tick from, Tick to) {
  std::set<Tick> all;
  for (Tick v = from; v <= to; ++v) all.insert(v);
  return all;
}

}  // namespace

TEST_CASE("a size is found to the tick, with what fails beside it", "[app][size]") {
  const SizeFound least = search({0, 1000, 20, false}, ticks(447, 1000));
  CHECK(least.value == 447);
  CHECK(least.beyond == 446);
  CHECK(least.failing.front().code == "fails at 446");
  const SizeFound most = search({0, 1000, 20, true}, ticks(0, 446));
  CHECK(most.value == 446);
  CHECK(most.beyond == 447);
}

TEST_CASE("what passes does not have to pass on", "[app][size]") {
  // Passes from 300 to 399 and again from 700: neither end of the range tells where.
  std::set<Tick> passing = ticks(300, 399);
  passing.merge(ticks(700, 1000));
  const SizeFound least = search({0, 1000, 20, false}, passing);
  CHECK(least.value == 300);
  REQUIRE(least.stretches.size() == 4);
  CHECK(least.stretches[1].from == 300);
  CHECK(least.stretches[1].to == 380);  // as scanned
  CHECK(least.stretches[3].passes);
  const SizeFound most = search({0, 650, 20, true}, passing);
  CHECK(most.value == 399);
  CHECK(most.beyond == 400);
}

TEST_CASE("a range that passes at its end, or nowhere, says so", "[app][size]") {
  const SizeFound all = search({10, 90, 7, false}, ticks(0, 100));
  CHECK(all.value == 10);
  CHECK_FALSE(all.beyond);
  CHECK(all.stretches.back().to == 90);  // the end counts though no step falls on it
  const SizeFound none = search({10, 90, 7, false}, {});
  CHECK_FALSE(none.value);
  const SizeFound one = search({5, 5, 1, false}, {5});
  CHECK(one.value == 5);
}

TEST_CASE("whatever passes, the answer passes and the tick before it does not", "[app][size]") {
  std::mt19937 random(4711);
  for (int round = 0; round < 500; ++round) {
    std::set<Tick> passing;
    Tick at = static_cast<Tick>(random() % 60);
    while (at < 400) {
      const Tick end = at + static_cast<Tick>(random() % 80);
      passing.merge(ticks(at, std::min<Tick>(end, 400)));
      at = end + 2 + static_cast<Tick>(random() % 80);
    }
    const SizeRange range{0, 400, 1 + static_cast<Tick>(random() % 30), random() % 2 == 0};
    const SizeFound found = search(range, passing);
    CAPTURE(round, range.step, range.largest);
    if (range.step == 1) {
      // Every tick was looked at: the answer is the first of all.
      CHECK(found.value == (range.largest ? *passing.rbegin() : *passing.begin()));
    }
    if (!found.value) continue;
    CHECK(passing.contains(*found.value));
    const Tick before = *found.value + (range.largest ? 1 : -1);
    CHECK((before < 0 || before > 400 || !passing.contains(before)));
    CHECK(found.beyond.has_value() == (before >= 0 && before <= 400));
  }
}

TEST_CASE("the smallest spacer that lets the drawers pass is told to a tenth", "[app][size]") {
  const std::vector<std::string> arguments{"size", kFirstTry, "--value",
                                           "galley.columns.drawers.after", "--from", "0mm", "--to",
                                           "10 cm", "--check", "galley", "--json"};
  const Run result = run(arguments);
  CAPTURE(result.out, result.err);
  REQUIRE(result.code == 0);
  const Json answer = Json::parse(result.out);
  const double value = answer["value"];
  CHECK(answer["fails_at"].get<double>() == Approx(value - 0.1));
  CHECK(answer["unit"] == "mm");
  CHECK(answer["failing"][0]["code"] == "clearance.motion");
  const auto blocked = [&](double spacer) {
    const Run check = run({"check", kFirstTry, "--set",
                           "galley.columns.drawers.after=" + std::to_string(spacer) + " mm"});
    return check.out.find("[clearance.motion]") != std::string::npos;
  };
  CHECK_FALSE(blocked(value));
  CHECK(blocked(value - 0.1));
  std::vector<std::string> alone = arguments;
  alone.insert(alone.end(), {"--jobs", "1"});
  CHECK(run(alone).out == result.out);
  const Run words = run({"size", kFirstTry, "--value", "galley.columns.drawers.after", "--from",
                         "0mm", "--to", "10 cm", "--check", "galley"});
  CHECK_THAT(words.out, Catch::Contains("is the smallest that passes, of 0 mm to 100 mm") &&
                            Catch::Contains("scanned   0 mm to 100 mm by 2 mm"));
}

TEST_CASE("where no value passes, the exit code says so", "[app][size]") {
  const Run result = run({"size", kFirstTry, "--value", "galley.columns.drawers.after", "--from",
                          "0mm", "--to", "5mm", "--check", "galley"});
  CAPTURE(result.out);
  CHECK(result.code == 1);
  CHECK_THAT(result.out, Catch::Contains("no value from 0 mm to 5 mm was found to pass") &&
                             Catch::Contains("  0 mm: fails\n") &&
                             Catch::Contains("[clearance.motion]"));
}

TEST_CASE("what cannot be searched for is told with its place", "[app][size]") {
  const auto [more, code] = GENERATE(
      table<std::vector<std::string>, std::string>(
          {{{"--value", "galley.widht", "--from", "0mm", "--to", "10mm"}, "expression.unknown_name"},
           {{"--value", "galley.sheet", "--from", "0mm", "--to", "10mm"}, "size.not_a_number"},
           {{"--value", "rack.left", "--from", "0mm", "--to", "10mm"}, "size.worked_out"},
           {{"--value", "spacer", "--from", "10mm", "--to", "0mm"}, "size.range"},
           {{"--value", "spacer", "--from", "0.04mm", "--to", "0.06mm"}, "size.none_between"},
           {{"--value", "spacer", "--from", "0kg", "--to", "10mm"}, "expression.dimension"},
           {{"--value", "spacer", "--from", "0mm", "--to", "ten"}, "expression.unknown_name"},
           {{"--value", "spacer", "--from", "0mm", "--to", "1m", "--step", "0.1mm"},
            "size.too_many"},
           {{"--value", "spacer", "--from", "0mm", "--to", "10mm", "--check", "galey"},
            "size.no_such_check"}}));
  std::vector<std::string> arguments{"size", kFirstTry};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const Run result = run(arguments);
  CAPTURE(result.out, result.err, code);
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("--") && Catch::Contains("["));
  CHECK_THAT(result.out, Catch::Contains(code));
}

TEST_CASE("an option that is given and empty is told by its name", "[app][size]") {
  const std::string option = GENERATE(as<std::string>(), "--value", "--step", "--check", "--from");
  std::vector<std::string> arguments{"size", kFirstTry, "--value", "spacer", "--from", "0mm",
                                     "--to", "10mm"};
  const auto given = std::ranges::find(arguments, option);
  if (given != arguments.end()) *(given + 1) = "";
  else arguments.insert(arguments.end(), {option, ""});
  const Run result = run(arguments);
  CAPTURE(result.err, option);
  CHECK(result.code == 2);
  CHECK_THAT(result.err, Catch::Contains(option + " is empty"));
}

#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace ribbay;

namespace {

const std::string kFirstTry = RIBBAY_SOURCE_DIR "/params/marsh/marsh_first_try.toml";

struct Advice {
  std::string parameter;
  std::string value;
};

/// The text between two marks after `at`, which moves behind it; npos when there is none.
std::string between(const std::string& text, const std::string& open, const std::string& close,
                    std::size_t& at) {
  at = text.find(open, at);
  if (at == std::string::npos) return {};
  const std::size_t start = at + open.size();
  at = text.find(close, start);
  return text.substr(start, at - start);
}

/// Every "mend: widen PARAMETER by SHIFT, to VALUE".
std::vector<Advice> advice_in(const std::string& text) {
  std::vector<Advice> found;
  for (std::size_t at = 0;;) {
    const std::string parameter = between(text, "mend: widen ", " by ", at);
    const std::string value = between(text, ", to ", "\n", at);
    if (at == std::string::npos) return found;
    found.push_back({parameter, value});
  }
}

std::size_t blocked_in(const std::string& text) {
  std::size_t count = 0;
  for (std::size_t at = text.find("[clearance.motion]"); at != std::string::npos;
       at = text.find("[clearance.motion]", at + 1)) {
    ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("advice that is printed works when it is followed", "[app][advice]") {
  const Run first = run({"check", kFirstTry});
  CAPTURE(first.out);
  CHECK(first.code == 1);
  CHECK_THAT(first.out,
             Catch::Contains(" passed, " + std::to_string(blocked_in(first.out)) + " failed"));
  const auto advice = advice_in(first.out);
  REQUIRE_FALSE(advice.empty());
  for (const Advice& one : advice) {
    CAPTURE(one.parameter, one.value);
    const Run mended = run({"check", kFirstTry, "--set", one.parameter + "=" + one.value});
    CAPTURE(mended.out);
    CHECK(mended.code <= 1);
    CHECK(blocked_in(mended.out) < blocked_in(first.out));
  }
}

TEST_CASE("advice that would not help is not printed", "[app][advice]") {
  // Columns of fixed width that fill the galley: a wider spacer would no longer fit. How much they
  // must fill is what the program itself says about a cupboard that is too narrow.
  const auto with_cupboard = [](double width) {
    return run({"check", kFirstTry, "--set",
                "galley.columns.cupboard.width=" + std::to_string(width) + " mm"});
  };
  const Run narrow = with_cupboard(100);
  std::size_t at = 0;
  const double taken = std::stod(between(narrow.out, "the columns take ", " mm", at));
  const double left = std::stod(between(narrow.out, ", and ", " mm", at));

  const Run result = with_cupboard(100 + left - taken);

  CAPTURE(result.out);
  CHECK(result.code == 1);
  CHECK(blocked_in(result.out) > 0);
  CHECK(advice_in(result.out).empty());
}

TEST_CASE("advice that only moves the trouble elsewhere is not printed", "[app][advice]") {
  // A frame stands before the galley, a little beyond where the drawers pass now: moved aside,
  // clear of the fridge, they would run into it.
  const auto report = nlohmann::json::parse(run({"check", kFirstTry, "--json"}).out);
  const auto& parts = report["parts"];
  const auto front = std::ranges::find_if(
      parts, [](const auto& part) { return part["id"] == "galley/drawer.drawers_1.front"; });
  REQUIRE(front != parts.end());
  const double beside = (*front)["box_mm"]["hi"][0].template get<double>() + 20.0;
  const double before = (*front)["box_mm"]["hi"][1].template get<double>() + 100.0;
  const TemporaryFolder home;
  const std::string file = write_project(
      home.path(),
      "format = 1\ninclude = [\"" + kFirstTry + "\"]\n[module.frame]\nkind = \"rack\"\n" +
          "faces = \"rear\"\nprofile = \"slotted_40\"\nbracket = \"bracket_40\"\n" +
          "width = 300\ndepth = 300\nheight = 900\nlevels = [0, 400]\nbays = [\"1 share\"]\n" +
          "place = { rear = " + std::to_string(beside) + ", right = " + std::to_string(before) +
          ", on = \"floor\" }\n");

  const Run result = run({"check", file});

  CAPTURE(result.out);
  CHECK(result.code == 1);
  CHECK_THAT(result.out, Catch::Contains("then galley/drawer.drawers_1.front meets rack/fridge"));
  CHECK(advice_in(result.out).empty());
}

TEST_CASE("a change that clears a clash is told, and clears it when it is made", "[app][advice]") {
  // Two racks that stand 12 in each other: the second is placed by a value, the first by itself.
  const auto racks = [](const std::string& set) {
    const TemporaryFolder home;
    const auto rack = [](const std::string& name, const std::string& rear) {
      return "[module." + name + "]\nkind = \"rack\"\nfaces = \"rear\"\nprofile = \"slotted_40\"\n" +
             "bracket = \"bracket_40\"\nwidth = 300\ndepth = 300\nheight = 600\nlevels = [0, 400]\n" +
             "place = { rear = " + rear + ", middle = 0 }\n";
    };
    const std::string file = write_project(
        home.path(), "format = 1\ninclude = [\"" + kFirstTry + "\"]\nremove = [\"module\", \"rates\"]\n" +
                         "[values]\nsecond = \"688 mm\"\n" + rack("one", "400") + rack("two", "\"second\""));
    std::vector<std::string> words{"check", file};
    if (!set.empty()) words.insert(words.end(), {"--set", set});
    return run(words);
  };
  const Run first = racks("");
  CAPTURE(first.out);
  std::size_t at = 0;
  const std::string parameter = between(first.out, "note: with ", " at ", at);
  REQUIRE(at != std::string::npos);
  const std::string value = between(first.out, " at ", " instead of ", --at);
  CHECK((parameter == "one.place.rear" || parameter == "second"));
  const Run mended = racks(parameter + "=" + value);
  CAPTURE(parameter, value, mended.out);
  CHECK(mended.out.find("[clearance.clash]") == std::string::npos);
  CHECK(mended.out.find("[clearance.modules]") == std::string::npos);
}

TEST_CASE("a level of a rack that is too low for what stands on it is told", "[app][advice]") {
  // The case is 210 high and stands on seats whose upper sides lie at 40; those of another hang at 220.
  const auto rack = [](const std::string& set) {
    const TemporaryFolder home;
    const std::string file = write_project(
        home.path(), "format = 1\ninclude = [\"" + kFirstTry +
                         "\"]\nremove = [\"module\", \"rates\"]\n[module.rack]\nkind = \"rack\"\n"
                         "faces = \"rear\"\nprofile = \"slotted_40\"\nbracket = \"bracket_40\"\n"
                         "width = 700\ndepth = 560\nheight = 900\nlevels = [0, \"220 mm\", \"860 mm\"]\n"
                         "place = { rear = 400, middle = 0 }\n"
                         "[module.rack.holds.case]\nitem = \"tool_case\"\nlevel = 1\nbay = 1\n[module.rack.holds.other]\nitem = \"tool_case\"\nlevel = 2\nbay = 1\n");
    std::vector<std::string> words{"check", file};
    if (!set.empty()) words.insert(words.end(), {"--set", set});
    return run(words);
  };
  const Run first = rack("");
  CAPTURE(first.out);
  CHECK(first.out.find("clearance.clash") != std::string::npos);
  CHECK_THAT(first.out, Catch::Contains("with entry 2 of rack.levels at 250 mm instead of 220 mm"));
  CHECK_THAT(first.out, Catch::Contains("--set rack.levels[2]=\"250 mm\""));
  const Run mended = rack("rack.levels[2]=250 mm");
  CAPTURE(mended.out);
  CHECK(mended.out.find("clearance.clash") == std::string::npos);
}

TEST_CASE("a motion that only a finish is in the way of is told", "[app][advice]") {
  // The board slides under another one, 0.4 mm above it: bare it passes, with 0.8 mm of laminate it does not.
  const auto boards = [](const std::string& finish) {
    const TemporaryFolder home;
    const std::string file = write_project(
        home.path(), "format = 1\ninclude = [\"" + kFirstTry +
                         "\"]\nremove = [\"module\", \"rates\"]\n[module.box]\nkind = \"custom\"\n"
                         "faces = \"rear\"\nwidth = 400\ndepth = 200\nheight = 100\n"
                         "place = { rear = 400, middle = 0 }\n"
                         "panels.slider = { sheet = \"birch_12\", at = [0, 0, 0], size = [150, 100] }\n"
                         "panels.above = { sheet = \"birch_12\", at = [200, 0, 12.4], size = [150, 100] }\n"
                         "motions.slider = { moves = [\"slider\"], axis = \"right\", slides = 200 }\n" + finish);
    return run({"check", file}).out;
  };
  const std::string told = "box/motion.slider goes all its way when box/slider and box/above are bare: laminate takes the room";
  CHECK_THAT(boards("finishes.top = { parts = [\"slider\"], finish = \"laminate\" }\n"),
             Catch::Contains("[clearance.motion]") && Catch::Contains(told));
  CHECK_THAT(boards(""), !Catch::Contains("[clearance.motion]") && !Catch::Contains("takes the room"));
  // A coat of 0.03 mm leaves it free; what is in the way of a bare board is not the finish's doing.
  CHECK_THAT(boards("finishes.top = { parts = [\"slider\"], finish = \"hard_oil\" }\n"),
             !Catch::Contains("takes the room"));
  CHECK_THAT(boards("panels.post = { sheet = \"birch_12\", at = [160, 0, 0], size = [100, 50], faces = \"right\" }\n"
                    "finishes.top = { parts = [\"slider\"], finish = \"laminate\" }\n"),
             Catch::Contains("[clearance.motion]") && !Catch::Contains("takes the room"));
}

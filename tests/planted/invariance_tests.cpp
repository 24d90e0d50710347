// The same scene told otherwise gives the same findings: set elsewhere, in a mirror, under other
// names and in another order, and of a file in inches.
#include "faults.hpp"
#include "retold.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <regex>
#include <sstream>

using namespace ribbay;
using namespace ribbay::planted;

namespace {

/// What does not depend on names, order, place or hand: codes and numbers, places left out. What is
/// told of two motions is told in the order of their names.
std::vector<std::string> gist(const Findings& findings) {
  std::vector<std::string> all;
  for (const Finding& finding : findings) {
    std::vector<std::string> facts;
    for (const Argument& argument : finding.arguments) {
      const double* value = std::get_if<double>(&argument.value);
      static const std::vector<std::string> places{"x", "y", "z", "from", "to"};
      if (value == nullptr || std::ranges::find(places, argument.name) != places.end()) continue;
      const std::string name = argument.name.starts_with("open_") ? "open" : argument.name;
      facts.push_back(" " + name + " " + std::to_string(std::round(*value * 1e3) / 1e3 + 0.0));
    }
    std::ranges::sort(facts);
    std::string text = finding.code;
    for (const std::string& fact : facts) text += fact;
    all.push_back(std::move(text));
  }
  std::ranges::sort(all);
  return all;
}

}  // namespace

TEST_CASE("findings do not depend on place, hand, names or order", "[planted][retold]") {
  for (const Fault& fault : faults()) {
    const Layout layout = planted::planted(fault);
    const auto plain = gist(all_findings(layout));
    CAPTURE(fault.code);
    CHECK_FALSE(plain.empty());
    CHECK(gist(all_findings(shifted(layout))) == plain);
    CHECK(gist(all_findings(mirrored(layout))) == plain);
    CHECK(gist(all_findings(renamed(layout))) == plain);
  }
}

namespace {

/// Each "123.4 mm" of a text in inches, to a millionth of a mm.
std::string in_inches(const std::string& text) {
  static const std::regex length(R"((\d+(?:\.\d+)?) mm\b)");
  std::string fresh;
  auto from = text.cbegin();
  for (std::sregex_iterator it(text.begin(), text.end(), length), end; it != end; ++it) {
    fresh.append(from, (*it)[0].first);
    char inches[40];
    std::snprintf(inches, sizeof inches, "%.12g in", std::stod((*it)[1]) / 25.4);
    fresh += inches;
    from = (*it)[0].second;
  }
  fresh.append(from, text.cend());
  return fresh;
}

/// The tables of a project file in the opposite order, those of one module kept together.
std::string modules_turned_round(const std::string& text) {
  std::vector<std::string> blocks{""};
  std::string module;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("[")) {
      const std::string name = line.substr(0, line.find_first_of(".]", line.find('.') + 1));
      const bool of_module = name.starts_with("[module.");
      if (!of_module || name != module) blocks.emplace_back();
      module = of_module ? name : "";
    }
    blocks.back() += line + "\n";
  }
  std::reverse(blocks.begin() + 1, blocks.end());
  std::string turned;
  for (const std::string& block : blocks) turned += block;
  return turned;
}

/// The galley under another name; its kind stays what it is.
std::string galley_renamed(const std::string& text) {
  const std::string renamed = std::regex_replace(text, std::regex("\\bgalley\\b"), "aisle_side");
  return std::regex_replace(renamed, std::regex("kind = \"aisle_side\""), "kind = \"galley\"");
}

using Change = std::function<std::string(const std::string&)>;

/// Findings of the demo whose own files are changed as they are read.
std::vector<std::string> of_demo(const Change& change, const std::string& setting) {
  const std::string folder = std::string(RIBBAY_SOURCE_DIR) + "/params/";
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    auto text = read_file(path);
    if (text && path.find("/marsh/") != std::string::npos) return change(*text);
    return text;
  };
  const auto inputs = read_inputs(folder + "marsh/marsh.toml", {setting}, read);
  INFO(testing::words(inputs.findings));
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  INFO(testing::words(layout.findings));
  REQUIRE(layout.value);
  return gist(all_findings(*layout.value));
}

}  // namespace

TEST_CASE("findings of the demo do not depend on units, names or the order of its file",
          "[planted][retold][demo]") {
  // The galley is pushed into the partition, the bunk into the rack: faults of many kinds.
  const std::string setting =
      GENERATE(as<std::string>{}, "module.galley.place.rear=partition.front - 3 mm",
               "module.bunk.place.bottom=945 mm");
  const auto same = [](const std::string& text) { return text; };
  const auto plain = of_demo(same, setting);
  CHECK(plain.size() > 1);
  CHECK(of_demo(in_inches, setting) == plain);
  CHECK(of_demo(modules_turned_round, setting) == plain);
  CHECK(of_demo(galley_renamed, galley_renamed(setting)) == plain);
}

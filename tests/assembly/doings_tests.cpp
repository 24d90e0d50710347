// What is said beside the steps: holes in the van, rivet nuts, when a frame is squared.
#include "assembly/doings.hpp"
#include "projects.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// "H1 to H3, H7" one by one.
std::vector<std::string> one_by_one(std::string text) {
  std::vector<std::string> names;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(", "), text.size());
    const std::string run = text.substr(0, comma);
    text.erase(0, comma + 2 < text.size() ? comma + 2 : text.size());
    const std::size_t to = run.find(" to ");
    const int first = std::stoi(run.substr(1, to - 1));
    const int last = to == std::string::npos ? first : std::stoi(run.substr(to + 5));
    for (int i = first; i <= last; ++i) names.push_back("H" + std::to_string(i));
  }
  return names;
}

}  // namespace

TEST_CASE("each hole in the floor is told once, with its module, by the drilling plan's name",
          "[assembly][projects]") {
  std::size_t told = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    if (!layout.vehicle) continue;
    // The plan counts from the rear forwards, each row from the right to the left.
    std::map<std::string, std::string> module_of;
    for (const FloorBolt& each : layout.floor_bolts) {
      const auto before = std::ranges::count_if(layout.floor_bolts, [&](const FloorBolt& other) {
        return other.at.x < each.at.x || (other.at.x == each.at.x && other.at.y < each.at.y);
      });
      module_of["H" + std::to_string(before + 1)] = each.id.substr(0, each.id.find('/'));
    }
    const Names names(layout);
    std::map<std::string, std::string> said;
    for (const AssemblyUnit& unit : plan_assembly(layout).units) {
      for (const std::string& line : Doings(layout, names, unit).of_all()) {
        const std::string words = "drill the van's floor at ";
        const std::size_t at = line.find(words);
        if (at == std::string::npos) continue;
        const std::size_t from = at + words.size();
        for (const std::string& hole : one_by_one(line.substr(from, line.find(" (") - from))) {
          CAPTURE(hole);
          CHECK_FALSE(said.contains(hole));
          said[hole] = unit.module;
        }
      }
    }
    CHECK(said == module_of);
    told += said.size();
  }
  CHECK(told > 20);
}

TEST_CASE("rivet nuts for bolts into the van's ribs are set before", "[assembly]") {
  // The bunk's two bearers are bolted to three ribs each.
  const Layout layout = demo();
  const Names names(layout);
  std::vector<std::string> lines;
  for (const AssemblyUnit& unit : plan_assembly(layout).units) {
    for (const std::string& line : Doings(layout, names, unit).of_all()) {
      if (line.find("Rivet nut") != std::string::npos) lines.push_back(unit.name + ": " + line);
    }
  }
  const auto bolts = std::ranges::count_if(layout.parts, [](const Part& part) {
    return part.id.starts_with("bunk/") && part.id.find(".wall_bolt_") != std::string::npos;
  });
  CHECK(lines == std::vector<std::string>{"bunk: set in the van before: " + std::to_string(bolts) +
                                          " x Rivet nut M8, for the sheet of the rib, at W1 to W6 "
                                          "(Wall and roof drilling plan)"});
}

TEST_CASE("frames are squared before the equipment that goes in last", "[assembly][projects]") {
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    const Names names(layout);
    for (const AssemblyUnit& unit : plan_assembly(layout).units) {
      CAPTURE(unit.name);
      const std::size_t squared = Doings(layout, names, unit).squared_after();
      REQUIRE(squared >= 1);
      REQUIRE(squared <= unit.steps.size());
      std::size_t driven = 0;  // in steps after that, of what is no equipment
      for (std::size_t i = squared; i < unit.steps.size(); ++i) {
        const AssemblyStep& step = unit.steps[i];
        if (layout.find(step.parts.front())->kind != PartKind::equipment)
          driven += step.fasteners.size() + step.glued.size();
      }
      CHECK(driven == 0);
    }
  }
  // The rack of the demo: tank, battery and fridge go in when it is square.
  const Layout layout = demo();
  const Names names(layout);
  std::set<std::string> after;
  for (const AssemblyUnit& unit : plan_assembly(layout).units) {
    if (unit.name != "rack") continue;
    for (std::size_t i = Doings(layout, names, unit).squared_after(); i < unit.steps.size(); ++i)
      after.insert(unit.steps[i].parts.front());
  }
  for (const char* id : {"rack/fresh_water", "rack/house_battery", "rack/fridge"})
    CHECK(after.contains(id));
}

#include "projects.hpp"
#include "structure/turned_on.hpp"
#include "told_hardware.hpp"
#include "worksteps/worksteps.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::size_t count(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
    ++found;
  return found;
}

}  // namespace

TEST_CASE("the text tells every step, and the table has one row for each", "[worksteps]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const OutputFiles files = assembly_files(layout, plan);
  REQUIRE(files.size() == 2);
  CHECK(files[0].path == "shop/assembly.txt");
  CHECK(files[1].path == "shop/assembly.csv");
  std::size_t steps = 0;
  std::size_t heavy_steps = 0;
  for (const AssemblyUnit& unit : plan.units) {
    steps += unit.steps.size();
    heavy_steps += static_cast<std::size_t>(std::ranges::count_if(
        unit.steps, [](const AssemblyStep& step) { return step.mass_kg > 25.0; }));
  }
  CHECK(count(files[1].bytes, "\r\n") == steps + 1);
  CHECK(heavy_steps > 0);
  CHECK(count(files[1].bytes, ",two people or a prop,") +
            count(files[1].bytes, ",\"more than two people, or a lift\",") ==
        heavy_steps);
  CHECK(count(files[1].bytes, "carry it at both ends: ") == heavy_steps);
  // Two kinds of bolts sit in slot nuts of the rack.
  CHECK(count(files[0].bytes, " in Slot nut 8, M8: ") == 2);
  CHECK(count(files[0].bytes, "both diagonals") == plan.squares.size());
}

TEST_CASE("what one person lifts is the project's", "[worksteps]") {
  // Of steps between 10 and 25 kg two people are asked for when one lifts 10.
  Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const auto heavier_than = [&](double most) {
    std::size_t steps = 0;
    for (const AssemblyUnit& unit : plan.units) {
      steps += static_cast<std::size_t>(std::ranges::count_if(
          unit.steps, [&](const AssemblyStep& step) { return step.mass_kg > most; }));
    }
    return steps;
  };
  REQUIRE(heavier_than(10.0) > heavier_than(25.0));
  CHECK(count(assembly_files(layout, plan)[0].bytes,
              "at most 25 kg alone, the reference mass of ISO 11228-1.") == 1);
  layout.project.one_person_lifts = 10.0;
  const OutputFiles files = assembly_files(layout, plan);
  CHECK(count(files[0].bytes, "at most 10 kg alone, as [project] one_person_lifts says;") == 1);
  CHECK(count(files[1].bytes, "carry it at both ends: ") == heavier_than(10.0));
}

TEST_CASE("what has no rectangle is not squared", "[worksteps]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  std::set<std::string> squared;
  for (const SquareCheck& check : plan.squares) squared.insert(check.module);
  CHECK_FALSE(squared.contains("drip_tray"));  // one folded sheet
  CHECK(squared.contains("rack"));
  const std::string text = assembly_files(layout, plan)[0].bytes;
  CHECK(count(text, "Square it up") == squared.size());
  // Each is followed by its sizes.
  CHECK(count(text, "the van stands:\n     - ") == squared.size());
}

TEST_CASE("the text tells each piece of hardware once", "[worksteps][projects]") {
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    const std::string text = assembly_files(layout, plan_assembly(layout))[0].bytes;
    for (const auto& [title, count] : hardware_in(layout)) {
      CAPTURE(title);
      CHECK(told_of(text, title) == count);
    }
  }
}

TEST_CASE("nuts, washers and rivet nuts that the lists carry are told in the steps",
          "[worksteps][projects]") {
  std::size_t kinds = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    const std::string text = assembly_files(layout, plan_assembly(layout))[0].bytes;
    std::map<std::string, int> listed;
    for (const Grip& grip : grips(layout)) {
      for (const OnBolt& on : on_bolt(layout, grip)) ++listed[on.title];
    }
    kinds += listed.size();
    for (const auto& [title, count] : listed) {
      CAPTURE(title);
      int sum = 0;  // those under the floor have a longer title
      for (const auto& [other, more] : listed)
        sum += other == title || other.starts_with(title + ",") ? more : 0;
      CHECK(told_of(text, title) == sum);
    }
  }
  CHECK(kinds > 5);
  // Eight bolts between beams and bearers, M8: 13 mm across the flats of their nuts, ISO 4032, from
  // memory.
  const Layout layout = demo();
  const std::string text = assembly_files(layout, plan_assembly(layout))[0].bytes;
  const std::size_t from = text.find("Bunk (bunk), in its place in the van");
  const std::string bunk = text.substr(from, text.find("\n\n", from) - from);
  CHECK(count(bunk, "ISO 7089; somebody else holds the nuts, spanner 13 mm\n") == 4);
  const std::size_t set = bunk.find("set in the van before: 6 x Rivet nut M8");
  CHECK(set < bunk.find("drive 3 x Socket head cap screw M8 x 25 to the right through M3"));
  CHECK(count(bunk, "- Socket head cap screw M8 x 50 in nut M8: 25.3 N m") == 1);
}

TEST_CASE("what nothing holds is told", "[worksteps]") {
  const Layout layout = demo();
  const std::string text = assembly_files(layout, plan_assembly(layout))[0].bytes;
  // Two shelves on rails; of equipment tank, battery, fridge and the heater on its sled.
  CHECK(count(text, "nothing holds it down: it lies on what is below it") == 2);
  CHECK(count(text, "no joint holds it: fix it as its maker says") == 4);
}

TEST_CASE("each unit says whose left and right it means", "[worksteps]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const std::string text = assembly_files(layout, plan)[0].bytes;
  const auto on_bench =
      static_cast<std::size_t>(std::ranges::count(plan.units, true, &AssemblyUnit::bench));
  CHECK(count(text, "and so on: its own") == on_bench);
  CHECK(count(text, "and so on: the van's") == plan.units.size() - on_bench);
  // The galley looks to the van's left: what stands at its own right comes from the van's rear.
  REQUIRE(layout.module("galley")->front == "left");
  const std::size_t from = text.find("Galley, frame (galley/frame), on the bench");
  const std::string galley = text.substr(from, text.find("\n\n", from) - from);
  CHECK(count(galley, "it to the ") + count(galley, "moving to the ") == 0);
  CHECK(galley.find("Bottom of drawers") <
        galley.find("slide it to its right over the last 4.5 mm"));
}

TEST_CASE("the same layout gives the same bytes", "[worksteps]") {
  const Layout layout = demo();
  const OutputFiles first = assembly_files(layout, plan_assembly(layout));
  const OutputFiles second = assembly_files(layout, plan_assembly(layout));
  for (std::size_t i = 0; i < first.size(); ++i) CHECK(first[i].bytes == second[i].bytes);
}

TEST_CASE("a layout without parts has no steps", "[worksteps]") {
  Layout layout = demo();
  layout.parts.clear();
  layout.joints.clear();
  layout.motions.clear();
  CHECK(assembly_files(layout, plan_assembly(layout)).empty());
}

TEST_CASE("the far end of a stay is screwed on last, when the lids hang", "[worksteps]") {
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/bench.toml");
  const std::string text = assembly_files(layout, plan_assembly(layout))[0].bytes;
  const std::string line = "screw the far ends of their stays to them";
  REQUIRE(count(text, line) == 1);
  CHECK(text.find(line) > text.find("1 x Lid stay 240 mm"));
  CHECK(count(assembly_files(demo(), plan_assembly(demo()))[0].bytes, line) == 0);  // it has none
}

#include "projects.hpp"
#include "replay.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("the demo and every example go together as planned", "[assembly][replay]") {
  for (const std::string& path : project_files()) {
    CAPTURE(path);
    const Layout layout = laid_out_file(path);
    const AssemblyPlan plan = plan_assembly(layout);
    CHECK(replay(layout, plan) == std::vector<std::string>{});
  }
}

TEST_CASE("every bolt of the demo's rack is driven once, and a tool reaches it",
          "[assembly][replay]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  std::set<std::string> driven;
  for (const AssemblyUnit& unit : plan.units) {
    if (unit.module != "rack") continue;
    for (const AssemblyStep& step : unit.steps) {
      for (const Driven& each : step.fasteners) {
        CAPTURE(each.id);
        CHECK(driven.insert(each.id).second);
        CHECK(each.reach != Reach::none);
      }
    }
    for (const Driven& each : unit.fixings) CHECK(driven.insert(each.id).second);
  }
  for (const Part& part : layout.parts) {
    if (part.module == "rack" && layout.catalogue->bolts.contains(part.stock.key))
      CHECK(driven.contains(part.id));
  }
  CHECK(plan.findings.empty());
}

TEST_CASE("steps turned round are seen by the replay", "[assembly][replay]") {
  const Layout layout = demo();
  AssemblyPlan plan = plan_assembly(layout);
  const auto rack = std::ranges::find(plan.units, "rack", &AssemblyUnit::name);
  REQUIRE(rack != plan.units.end());
  std::ranges::reverse(rack->steps);
  CHECK_FALSE(replay(layout, plan).empty());
}

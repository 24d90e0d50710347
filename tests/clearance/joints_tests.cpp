// Joints as bodies: their hardware is in nobody's way.
#include "clearance/clearance.hpp"
#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("a rack is clear with each of its joints", "[clearance][joints]") {
  const auto joint = GENERATE(values<std::vector<std::string>>(
      {{"module.rack.joint=end bolt", "module.rack.end_bolt=m8_25_button"},
       {"module.rack.joint=hidden connector", "module.rack.connector=hidden_40"},
       {"module.rack.joint=gusset plate", "module.rack.plate=gusset_40"}}));
  CAPTURE(joint.front());
  auto built = lay_out_text(kLopsidedRack, joint);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const ClearanceResult result = check_clearance(*built.value);
  INFO(words(result.findings));
  CHECK(result.findings.empty());
}

TEST_CASE("a dado that is not cut is a clash", "[clearance][joints]") {
  std::string text = kLopsidedCustom;
  const std::string dado =
      "floor = { kind = \"dado\", parts = [\"floor\", \"cheek\", \"partner\"], glued = true }\n";
  const auto at = text.find(dado);
  REQUIRE(at != std::string::npos);
  text.replace(at, dado.size(), "");
  auto built = lay_out_text(text);
  REQUIRE(built.value);
  const ClearanceResult result = check_clearance(*built.value);
  CHECK(std::ranges::count(result.findings, "clearance.clash", &Finding::code) == 2);
}

TEST_CASE("screws from two sides may not meet in the piece between", "[clearance][joints]") {
  // A piece of 50 between boards of 12: 40 long screws reach 28 into it from
  // each end, so that in line their last 6 are in one place.
  const std::string text = R"(
[module.frame]
kind = "custom"
faces = "rear"
width = "74 mm"
depth = "400 mm"
height = "200 mm"
place = { rear = "500 mm", middle = "0 mm", bottom = "500 mm" }
[module.frame.panels]
left = { sheet = "birch_12", at = [0, 0, 0], size = [400, 200], faces = "right" }
right = { sheet = "birch_12", at = [62, 0, 0], size = [400, 200], faces = "right" }
between = { sheet = "birch_18", at = [12, 100, 0], size = [50, 200], faces = "front" }
[module.frame.joints]
left = { kind = "screw", parts = ["left", "between"], screw = "wood_4x40", at = [50, 150] }
right = { kind = "screw", parts = ["right", "between"], screw = "wood_4x40", at = [50, 150] }
)";
  const auto clashes = [](const std::string& modules) {
    auto built = lay_out_text(modules);
    INFO(words(built.findings));
    REQUIRE(built.value);
    REQUIRE_FALSE(has_errors(built.findings));
    std::vector<std::string> named;
    for (const Finding& finding : check_clearance(*built.value).findings) {
      if (finding.code == "clearance.in_the_air") continue;  // the frame hangs there for this test
      CHECK(finding.code == "clearance.clash");
      for (const std::string& subject : finding.subjects) named.push_back(subject);
    }
    return named;
  };
  CHECK(clashes(text) == std::vector<std::string>{"frame/screw.left_1", "frame/screw.right_1",
                                                  "frame/screw.left_2", "frame/screw.right_2"});
  std::string apart = text;
  apart.replace(apart.rfind("[50, 150]"), 9, "[40, 140]");
  CHECK(clashes(apart).empty());
}

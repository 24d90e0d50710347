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

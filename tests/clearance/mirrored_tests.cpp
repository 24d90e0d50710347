// A module and its mirror image in a symmetric van: what clashes, is tight or does not open must be
// the same, hand for hand.
#include "clearance/clearance.hpp"
#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

ClearanceResult checked(const std::string& modules, const std::vector<std::string>& set) {
  auto built = lay_out_text(modules, set);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  ClearanceResult result = check_clearance(*built.value, 1, true);
  // Some samples stand alone in the room: what carries them would be another module.
  std::erase_if(result.findings,
                [](const Finding& finding) { return finding.code == "clearance.in_the_air"; });
  return result;
}

}  // namespace

TEST_CASE("every kind checks alike in its mirror image", "[clearance][mirror]") {
  const auto sample = GENERATE(from_range(kind_samples()));
  CAPTURE(sample.name);
  const std::string flag = std::string("module.") + sample.name + ".mirrored=true";
  const ClearanceResult plain = checked(sample.text, {});
  const ClearanceResult image = checked(sample.text, {flag});
  INFO(words(plain.findings));
  INFO(words(image.findings));
  CHECK(plain.findings.empty());
  CHECK(image.findings.empty());
  CHECK(plain.bodies == image.bodies);
  CHECK(plain.contacts.size() == image.contacts.size());
  REQUIRE(plain.motions.size() == image.motions.size());
  for (std::size_t i = 0; i < plain.motions.size(); ++i) {
    CHECK(plain.motions[i].motion == image.motions[i].motion);
    CHECK(plain.motions[i].opens == Approx(image.motions[i].opens).margin(1e-6));
    CHECK(plain.motions[i].blocked == image.motions[i].blocked);
  }
}

TEST_CASE("a fault of a galley is found in its mirror image too", "[clearance][mirror]") {
  // A post in front of the galley, 200 mm off its counter: drawers and door cannot open. It stands
  // before the middle of the galley, so that it is its own image.
  const std::string post = R"(
[module.post]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "300 mm"
depth = "1200 mm"
height = "900 mm"
levels = [0]
place = { rear = "galley.rear", right = "galley.left + 200 mm" }
)";
  const std::string text = std::string(kLopsidedGalley) + post;
  const ClearanceResult plain = checked(text, {});
  const ClearanceResult image = checked(text, {"module.galley.mirrored=true"});
  INFO(words(plain.findings));
  INFO(words(image.findings));
  CHECK(has_code(plain.findings, "clearance.motion"));
  REQUIRE(plain.findings.size() == image.findings.size());
  REQUIRE(plain.motions.size() == image.motions.size());
  for (std::size_t i = 0; i < plain.motions.size(); ++i) {
    CAPTURE(plain.motions[i].motion);
    CHECK(plain.motions[i].opens == Approx(image.motions[i].opens).margin(1e-6));
    CHECK(plain.motions[i].blocked == image.motions[i].blocked);
  }
}

#include "clearance/clearance.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using scenes::box_part;

namespace {

/// A beam of 400 mm between two posts that leave it 400 mm less `left` and `right`.
Findings beam_between(double left, double right) {
  return check_clearance(
             scenes::layout_of({box_part("a/beam", {0, 0, 0}, {400, 40, 40}),
                                box_part("b/left", {-40 + left, -50, -50}, {left, 90, 90}),
                                box_part("c/right", {400 - right, -50, -50}, {440 - right, 90, 90})}))
      .findings;
}

std::ptrdiff_t ways(const Findings& findings) {
  return std::ranges::count_if(findings, [](const Finding& finding) {
    return finding.code == "clearance.clash" && finding.argument("way") != nullptr;
  });
}

}  // namespace

TEST_CASE("a part that two others press from opposite sides is told once, and sent nowhere",
          "[clearance]") {
  const Findings findings = beam_between(3, 2);
  const auto caught = std::ranges::find(findings, "clearance.caught", &Finding::code);
  REQUIRE(caught != findings.end());
  CHECK(caught->subjects == std::vector<std::string>{"a/beam", "b/left", "c/right"});
  CHECK(std::get<double>(caught->argument("measured")->value) == Approx(5.0).margin(1e-6));
  CHECK(ways(findings) == 0);
}

TEST_CASE("a part that is pressed from one side is told the way out", "[clearance]") {
  const Findings findings = beam_between(3, 0);
  CHECK(std::ranges::find(findings, "clearance.caught", &Finding::code) == findings.end());
  CHECK(findings.size() == 1);
}

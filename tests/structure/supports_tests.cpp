#include "structure/supports.hpp"

#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A box of `mass` that stands on the floor with its rear edge at `x`; joists lie at 1000 and 1400.
Layout box_at(double x, double mass, double depth = 200) {
  auto built = lay_out_text("");
  REQUIRE(built.value);
  Layout layout = *built.value;
  auto vehicle = std::make_shared<Vehicle>(*layout.vehicle);
  vehicle->joists = {{"a", true, 1000, 60, -500, 500}, {"b", true, 1400, 60, -500, 500}};
  layout.vehicle = vehicle;
  layout.parts.clear();
  layout.floor_bolts.clear();
  layout.modules = {{.name = "m",
                     .kind = "custom",
                     .title = "M",
                     .envelope = {{x, -300, 0}, {x + depth, 300, 400}},
                     .front = "rear",
                     .place = {}}};
  Part part;
  part.id = "m/battery";
  part.module = "m";
  part.kind = PartKind::equipment;
  part.mass_kg = mass;
  part.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {depth, 400, 250}));
  part.frame.origin = {x, -200, 0};
  layout.parts.push_back(part);
  return layout;
}

double measured(const Finding& finding) {
  return std::get<double>(finding.argument("measured")->value);
}

std::string way(const Finding& finding) {
  return std::get<std::string>(finding.argument("way")->value);
}

}  // namespace

TEST_CASE("what is heavy stands over a joist, or the way to one is told", "[structure][support]") {
  CHECK(check_supports(box_at(900, 34)).empty());   // 900 to 1100: over the joist at 1000
  CHECK(check_supports(box_at(1000, 34)).empty());  // its edge on the middle of the joist
  const Findings front = check_supports(box_at(1150, 34));  // 1150 to 1350
  REQUIRE(front.size() == 1);
  CHECK(front[0].code == "support.between_joists");
  CHECK(front[0].severity == Severity::warning);
  CHECK(measured(front[0]) == Approx(50));
  CHECK(way(front[0]) == "to the front");
  const Findings rear = check_supports(box_at(1040, 34));
  REQUIRE(rear.size() == 1);
  CHECK(measured(rear[0]) == Approx(40));
  CHECK(way(rear[0]) == "to the rear");
  CHECK(check_supports(box_at(1150, 19.9)).empty());  // not heavy
  CHECK(check_supports(box_at(950, 34, 500)).empty());
}

TEST_CASE("a joist that ends before it does not bear it", "[structure][support]") {
  Layout layout = box_at(900, 34);
  layout.parts.front().frame.origin.y = 510;
  const Findings findings = check_supports(layout);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "support.off_joists");
}

TEST_CASE("joists that run lengthwise are left or right of it", "[structure][support]") {
  Layout layout = box_at(1150, 34);
  auto vehicle = std::make_shared<Vehicle>(*layout.vehicle);
  vehicle->joists = {{"a", false, 260, 60, 0, 3000}};
  layout.vehicle = vehicle;
  const Findings findings = check_supports(layout);  // it reaches from -200 to 200
  REQUIRE(findings.size() == 1);
  CHECK(measured(findings[0]) == Approx(60));
  CHECK(way(findings[0]) == "to the left");
}

TEST_CASE("a frame that is bolted to joists before and behind bears what it holds",
          "[structure][support]") {
  Layout layout = box_at(1150, 34);
  layout.floor_bolts = {{"m/bolt_1", {1000, 0}, 8, true}};
  CHECK(check_supports(layout).size() == 1);  // on one side alone
  layout.floor_bolts.push_back({"m/bolt_2", {1400, 0}, 8, false});
  CHECK(check_supports(layout).size() == 1);  // that one holds in the deck
  layout.floor_bolts.back().over_joist = true;
  CHECK(check_supports(layout).empty());
  layout.floor_bolts.back().id = "other/bolt_2";
  CHECK(check_supports(layout).size() == 1);
}

TEST_CASE("without joists in the file, that nothing is known is told once",
          "[structure][support]") {
  Layout layout = box_at(1150, 34);
  auto vehicle = std::make_shared<Vehicle>(*layout.vehicle);
  vehicle->joists.clear();
  layout.vehicle = vehicle;
  layout.parts.push_back(layout.parts.front());
  layout.parts.back().id = "m/other";
  const Findings findings = check_supports(layout);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "support.no_joists");
  CHECK(findings[0].severity == Severity::note);
}

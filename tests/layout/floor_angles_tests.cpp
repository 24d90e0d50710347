// Angles that hold upright parts to the van's floor.
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kWall = R"(
[module.wall]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "1 share"]
place = { rear = "1500 mm", between = "walls", on = "floor" }
[module.wall.floor_angles.a]
on = "piece_1"
face = "back"
at = "100 mm"
bracket = "angle_60"
floor_bolt = "m8_40"
)";

}  // namespace

TEST_CASE("an angle is screwed to the part and bolted to the floor", "[layout][angles]") {
  const auto built = lay_out_text(kWall);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const Layout& layout = *built.value;
  // The wall looks to the front: 100 mm from its left is 100 mm from the van's right, at -800. The
  // holes of angle_60 lie 30 mm from its corner; joists at 1350 and 1650 are 60 wide.
  REQUIRE(layout.floor_bolts.size() == 1);
  CHECK(layout.floor_bolts.front().id == "wall/floor_angle.a.bolt_b");
  CHECK(layout.floor_bolts.front().at.x == Approx(1500 - 30));
  CHECK(layout.floor_bolts.front().at.y == Approx(-800 + 100));
  CHECK_FALSE(layout.floor_bolts.front().over_joist);
  const Part* screw = layout.find("wall/floor_angle.a.bolt_a");
  REQUIRE(screw != nullptr);
  CHECK(screw->stock.key == "wood_5x16");
  CHECK(screw->frame.z.x == Approx(1));
  CHECK(screw->frame.origin.z == Approx(30));
  // 16 less the leg of 3: the pilot in the wall.
  const auto& bores = layout.find("wall/piece_1")->shape->prisms.front().prism.bores;
  REQUIRE(bores.size() == 1);
  CHECK(bores.front().role == BoreRole::pilot);
  CHECK(bores.front().depth == Approx(13));
}

TEST_CASE("an angle that holds nothing is told where it is asked for", "[layout][angles]") {
  const auto codes = [](const std::vector<std::string>& set) { return lay_out_text(kWall, set).findings; };
  CHECK(has_code(codes({"module.wall.floor_angles.a.on=side"}), "layout.angle_no_part"));
  CHECK(has_code(codes({"module.wall.floor_angles.a.at=10 mm"}), "layout.angle_beside"));
  CHECK(has_code(codes({"module.wall.floor_angles.a.face=left"}), "layout.angle_beside"));
  std::string raised = kWall;
  raised.replace(raised.find("on = \"floor\""), 12, "bottom = \"50 mm\"");
  CHECK(has_code(lay_out_text(raised).findings, "layout.angle_in_air"));
}

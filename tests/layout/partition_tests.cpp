#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kPlainPartition = R"(
[module.partition]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "1 share"]
seam_screw = "wood_3_5x16"
place = { rear = "900 mm", between = "walls", on = "floor" }
)";

Layout good(const std::string& modules, const std::vector<std::string>& overrides = {},
            const std::string& van = kStraightVan) {
  auto built = lay_out_text(modules, overrides, van);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

}  // namespace

TEST_CASE(
    "a partition is as thick as its sheet really is and reaches the walls but for the edge gap",
    "[layout][partition]") {
  const Layout layout = good(kPlainPartition);
  // Nominal 18, actual mean 17.7 mm (params/stock/sheets.toml names the source).
  CHECK(layout.module("partition")->envelope.size().x == Approx(17.7));
  CHECK(bounds(*layout.find("partition/piece_1")).lo.y == Approx(-800 + 3));
  CHECK(bounds(*layout.find("partition/piece_2")).hi.y == Approx(800 - 3));
}

TEST_CASE("two pieces lap by the lap, half the thickness each", "[layout][partition]") {
  const Layout layout = good(kPlainPartition);
  const Box a = bounds(*layout.find("partition/piece_1"));
  const Box b = bounds(*layout.find("partition/piece_2"));
  CHECK(a.hi.y - b.lo.y == Approx(30));
  // Together they make the whole wall: 1594 by 1000 by 17.7, nothing twice.
  const double together = volume(*layout.find("partition/piece_1")->shape) +
                          volume(*layout.find("partition/piece_2")->shape);
  CHECK(together == Approx(1594.0 * 1000.0 * 17.7).epsilon(1e-9));
}

TEST_CASE("a partition in a rib's place is notched around it", "[layout][partition]") {
  const Layout layout =
      good(kPlainPartition, {"module.partition.place.rear=740mm"}, std::string(kStraightVan));
  // The rib at 750 stands 30 into the room from z = 100 up: the whole wall less two strips 30 wide
  // that begin an edge gap below the ribs.
  const double full = 1594.0 * 1000.0;
  const double ribs = 2 * 30.0 * (1000 - 100 + 3);
  const double made = volume(*layout.find("partition/piece_1")->shape) +
                      volume(*layout.find("partition/piece_2")->shape);
  CHECK(made / 17.7 == Approx(full - ribs).epsilon(1e-4));
}

TEST_CASE("a partition beside a door that stands into the room is notched around its leaf",
          "[layout][partition]") {
  const std::string van = std::string(kStraightVan) + R"(
[opening.side]
kind = "hinged"
side = "left"
from = "800 mm"
to = "1000 mm"
bottom = "200 mm"
top = "600 mm"
leaf = { intrudes = "20 mm" }
)";
  const Layout layout = good(kPlainPartition, {}, van);
  const double full = 1594.0 * 1000.0;
  const double leaf = 20.0 * (400 + 2 * 3);  // an edge gap below and above it
  const double made = volume(*layout.find("partition/piece_1")->shape) +
                      volume(*layout.find("partition/piece_2")->shape);
  CHECK(made / 17.7 == Approx(full - leaf).epsilon(1e-5));
}

TEST_CASE("an opening follows what another module pokes through it", "[layout][partition]") {
  const std::string text = std::string(kPlainRack) + kPlainPartition + R"(
[module.rack.holds.heater]
item = "water_heater"
bay = 1
level = 2
[module.partition.passes.heater]
left = "rack.heater_burner.left + 10 mm"
right = "rack.heater_burner.right - 10 mm"
bottom = "rack.heater_burner.bottom - 10 mm"
top = "rack.heater_burner.top + 10 mm"
)";
  const auto hole = [&](const std::vector<std::string>& set) {
    const Layout layout = good(text, set);
    for (const Part& part : layout.parts) {
      if (part.module != "partition" || part.kind != PartKind::panel) continue;
      for (const Cut& cut : part.shape->prisms.front().prism.cuts) {
        if (cut.role == CutRole::cut_out)
          return part.frame.point({cut.outline[0].at.x, cut.outline[0].at.y, 0});
      }
    }
    return Vec3{};
  };
  const Vec3 before = hole({});
  const Vec3 after = hole({"module.rack.levels=[0, 450, 860]"});
  CHECK(after.z - before.z == Approx(50));
  CHECK(after.y == Approx(before.y));
}

TEST_CASE("a cycle through what pokes through is reported once with its path",
          "[layout][partition]") {
  const std::string text = std::string(kPlainRack) + kPlainPartition + R"(
[module.rack.holds.heater]
item = "water_heater"
bay = 1
level = 2
[module.partition.passes.heater]
left = "rack.heater_burner.left"
right = "rack.heater_burner.right"
bottom = "rack.heater_burner.bottom"
top = "rack.heater_burner.top"
)";
  const auto built = lay_out_text(text, {"module.rack.depth=partition.pass_heater.top"});
  INFO(words(built.findings));
  int cycles = 0;
  for (const Finding& f : built.findings) cycles += f.code == "expression.cycle" ? 1 : 0;
  CHECK(cycles == 1);
}

TEST_CASE("what a partition cannot be is reported", "[layout][partition]") {
  CHECK(has_code(
      lay_out_text(kPlainPartition, {"module.partition.faces=left", "module.partition.width=500mm"})
          .findings,
      "partition.not_across"));
  CHECK(has_code(lay_out_text(kPlainPartition, {"module.partition.pieces=[\"300 mm\"]"}).findings,
                 "partition.pieces"));
  const std::string pass =
      std::string(kPlainPartition) +
      "[module.partition.passes.x]\nleft = 100\nright = 0\nbottom = 500\ntop = 995\n";
  CHECK(has_code(lay_out_text(pass).findings, "partition.pass_outside"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.left=-50mm"}).findings,
                 "partition.pass_reversed"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.radius=60mm"}).findings,
                 "partition.pass_outside"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.top=900mm",
                                     "module.partition.passes.x.radius=60mm"})
                     .findings,
                 "partition.pass_radius"));
}

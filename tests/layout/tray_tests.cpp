#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Aluminium 1.5 mm, folded to a radius of 1.5 with k = 0.325 (params/stock/sheets.toml).
const char* kTray = R"(
[module.tray]
kind = "tray"
faces = "rear"
sheet = "aluminium_1_5"
width = "400 mm"
depth = "300 mm"
height = "40 mm"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

constexpr double kThick = 1.5;
constexpr double kRadius = 1.5;
/// A right angle takes pi/2 (r + k t) of the neutral fibre.
const double kBend = std::numbers::pi / 2 * (kRadius + 0.325 * kThick);
constexpr double kSetback = kThick + kRadius;

Built<std::optional<Layout>> lay_out_tray(const std::vector<std::string>& overrides = {},
                                          const std::string& more = {}) {
  return lay_out_text(kTray + more, overrides);
}

Layout good_tray(const std::vector<std::string>& overrides = {}, const std::string& more = {}) {
  return sound(lay_out_tray(overrides, more));
}

const Part& tray(const Layout& layout) {
  return *layout.find("tray/tray");
}

}  // namespace

TEST_CASE("a tray fills its envelope, and its blank is the sum of flats and bends",
          "[layout][tray]") {
  const Layout layout = good_tray();
  const Part& part = tray(layout);
  CHECK(part.kind == PartKind::folded);
  CHECK(bounds(part).lo.z == Approx(300));
  CHECK(bounds(part).size().z == Approx(40));
  CHECK(bounds(part).size().y == Approx(400));
  CHECK(bounds(part).size().x == Approx(300));
  // Wall, bend, floor, bend, wall.
  const double walls = 2 * (40 - kSetback) + 2 * kBend;
  CHECK(part.stock.length == Approx(400 - 2 * kSetback + walls));
  CHECK(part.stock.width == Approx(300 - 2 * kSetback + walls));
  REQUIRE(part.flat);
  CHECK(part.flat->bends.size() == 4);
}

TEST_CASE("a tray's volume by hand: floor, four walls, four bends", "[layout][tray]") {
  const Part part = tray(good_tray());
  const double wide = 400 - 2 * kSetback;
  const double deep = 300 - 2 * kSetback;
  const double high = 40 - kSetback;
  // Front and back walls reach over the corners; side walls butt against them 0.5 mm short. Bends
  // keep a thickness from the next one.
  const double front = (wide + 2 * kSetback) * high;
  const double side = (deep + 2 * (kSetback - kThick - 0.5)) * high;
  const double quarter_ring =
      std::numbers::pi / 4 * ((kRadius + kThick) * (kRadius + kThick) - kRadius * kRadius);
  const double bends = 2 * quarter_ring * ((wide - 2 * kThick) + (deep - 2 * kThick));
  CHECK(volume(*part.shape) ==
        Approx(kThick * (wide * deep + 2 * front + 2 * side) + bends).epsilon(1e-9));
}

TEST_CASE("lips are folded outwards and count in the width", "[layout][tray]") {
  const Part part = tray(good_tray({"module.tray.lip=12mm"}));
  CHECK(bounds(part).size().y == Approx(400));
  // From one lip's edge to the other: 2 lips, 4 bends, 2 walls, the floor.
  const double floor = 400 - 2 * 12 - 2 * kSetback;
  CHECK(part.stock.length ==
        Approx(2 * (12 - kRadius) + 4 * kBend + 2 * (40 - 2 * kSetback) + floor));
  CHECK(part.flat->bends.size() == 8);
  const auto outwards = std::ranges::count_if(part.flat->bends,
                                              [](const BendLine& bend) { return bend.angle < 0; });
  CHECK(outwards == 4);
}

TEST_CASE("a tray may be open at some sides", "[layout][tray]") {
  const Part part = tray(good_tray({"module.tray.walls=[\"back\"]"}));
  CHECK(part.stock.length == Approx(400));  // the longer side of the blank runs along x
  CHECK(part.stock.width == Approx(300 - kSetback + kBend + 40 - kSetback));
}

TEST_CASE("a drain is cut into the floor and told its fall", "[layout][tray]") {
  const std::string drain =
      "drain = { fitting = \"drain_40\", from_left = \"100 mm\", from_front = \"150 mm\", slope = "
      "\"2 %\" }\n";
  const auto built = lay_out_tray({}, drain);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const Part& part = tray(*built.value);
  REQUIRE(part.flat->blank.cuts.size() == 1);
  const Part* fitting = built.value->find("tray/drain");
  REQUIRE(fitting != nullptr);
  CHECK(fitting->hosts == std::vector<std::string>{"tray/tray"});
  // Facing the rear, the module's left is the van's left; its width runs from y = 200 to -200.
  CHECK(fitting->frame.origin.y == Approx(200 - 100));
  CHECK(fitting->frame.origin.x == Approx(100 + 150));
  CHECK(fitting->frame.origin.z == Approx(300 + kThick));
  // The far end of the flat floor is 400 - 3 - 100 away: 2 % of 297 mm.
  const auto slope = std::ranges::find(built.findings, "tray.slope", &Finding::code);
  REQUIRE(slope != built.findings.end());
  CHECK(slope->severity == Severity::note);
  CHECK(std::get<double>(slope->argument("measured")->value) == Approx(0.02 * 297));
}

TEST_CASE("holes are drilled where the file says", "[layout][tray]") {
  const Layout layout = good_tray({}, R"(
[module.tray.holes.low]
at = ["50 mm", "80 mm"]
diameter = "5 mm"
[module.tray.holes.side]
in = "left"
at = ["60 mm", "25 mm"]
diameter = "6 mm"
)");
  const Part& part = tray(layout);
  std::vector<Vec3> at;
  for (const PlacedPrism& placed : part.shape->prisms) {
    for (const Bore& bore : placed.prism.bores)
      at.push_back(part.frame.point(placed.frame.point({bore.at.x, bore.at.y, 0})));
  }
  REQUIRE(at.size() == 2);
  CHECK(at[0].x == Approx(100 + 80));
  CHECK(at[0].y == Approx(200 - 50));
  // In the left wall: at its outside, 60 from the front, 25 up.
  CHECK(at[1].x == Approx(100 + 60));
  CHECK(at[1].y == Approx(200));
  CHECK(at[1].z == Approx(300 + 25));
}

TEST_CASE("what a tray cannot be is reported", "[layout][tray]") {
  const auto code = [](const std::vector<std::string>& overrides, const char* expected,
                       const std::string& more = {}) {
    const Findings findings = lay_out_tray(overrides, more).findings;
    INFO(words(findings));
    CHECK(has_code(findings, expected));
  };
  code({"module.tray.sheet=birch_12"}, "tray.not_for_folding");
  code({"module.tray.bend_radius=1mm"}, "tray.bend_too_tight");
  // A wall of 7 mm: four thicknesses and the radius are 7.5.
  code({"module.tray.height=7mm"}, "tray.short_flange");
  code({"module.tray.lip=5mm"}, "tray.short_flange");
  code({"module.tray.width=10mm"}, "tray.no_floor");
  code({"module.tray.width=1999mm"}, "layout.larger_than_stock");
  code({}, "tray.drain_off_floor", "drain = { fitting = \"drain_40\", from_left = \"28 mm\" }\n");
  code({}, "tray.no_drain", "drain = { fitting = \"magnet_20\" }\n");
  code({}, "tray.hole_off_flat",
       "[module.tray.holes.x]\nat = [\"5 mm\", \"50 mm\"]\ndiameter = \"5 mm\"\n");
  code({"module.tray.walls=[\"left\"]"}, "tray.no_wall",
       "[module.tray.holes.x]\nin = \"back\"\nat = [\"50 mm\", \"20 mm\"]\ndiameter = \"5 mm\"\n");
}

TEST_CASE("a wall just high enough to be folded is folded", "[layout][tray]") {
  CHECK(bounds(tray(good_tray({"module.tray.height=7.5mm"}))).size().z == Approx(7.5));
}

TEST_CASE("a drain that reaches below the floor goes through it, and misses the joists",
          "[layout][tray][floor]") {
  const std::string drain = "drain = { fitting = \"drain_40\", from_left = \"100 mm\" }\n";
  const auto raised = lay_out_tray({}, drain);
  REQUIRE(raised.value);
  CHECK(raised.value->floor_bolts.empty());  // 300 mm above the floor
  const auto built = lay_out_tray({"tray.place.bottom=0 mm"}, drain);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->floor_bolts.size() == 1);
  const FloorBolt& pipe = built.value->floor_bolts.front();
  CHECK(pipe.id == "tray/drain");
  CHECK(pipe.pipe);
  CHECK(pipe.diameter == Approx(48));  // the thread is 47
  // Along x the drain is in the middle of 300; put it on the joist nearest to that.
  REQUIRE_FALSE(built.value->vehicle->joists.empty());
  const Joist* joist = nearest_joist(*built.value->vehicle, pipe.at);
  REQUIRE(joist->across);
  const auto at = [&](double x) {
    return lay_out_tray({"tray.place.bottom=0 mm", "tray.place.rear=" + std::to_string(x - 150) + " mm"},
                        drain);
  };
  const double beside = joist->width / 2 + 24;
  const auto met = at(joist->at + beside - 2);
  const auto told = std::ranges::find(met.findings, "layout.pipe_in_joist", &Finding::code);
  REQUIRE(told != met.findings.end());
  CHECK(std::get<double>(told->argument("measured")->value) == Approx(2));
  CHECK(std::get<std::string>(told->argument("way")->value) == "to the front");
  CHECK_FALSE(has_code(at(joist->at + beside + 1).findings, "layout.pipe_in_joist"));
  CHECK(has_code(at(joist->at - beside + 2).findings, "layout.pipe_in_joist"));
}

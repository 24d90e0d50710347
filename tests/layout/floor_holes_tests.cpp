#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

struct Fixed {
  const char* kind;
  std::string text;
};

/// Every kind that is fixed to the floor, by bolts or by screws.
std::vector<Fixed> fixed_kinds() {
  return {{"rack", kPlainRack},
          {"floor", R"(
[module.deck]
kind = "floor"
faces = "rear"
sheet = "birch_12"
batten_sheet = "birch_21"
insulation = "insulation_20"
screw = "wood_4x30"
floor_bolt = "m8_40"
depth = "1000 mm"
place = { rear = "100 mm", between = "walls", on = "floor" }
)"},
          {"bench", R"(
[module.bench]
kind = "bench"
faces = "right"
width = "1500 mm"
depth = "600 mm"
height = "440 mm"
sheet = "birch_18"
bottom_sheet = "birch_12"
lid_sheet = "birch_21"
hinge = "continuous_32"
lids = ["1 share"]
screw = "wood_4x40"
floor_bolt = "m8_50_hex"
persons = 2
cushion = "80 mm"
place = { rear = "300 mm", against = "left wall", gap = "4 mm", on = "floor" }
[module.bench.bays.tools]
width = "1 share"
)"},
          {"sled", R"(
[module.sled]
kind = "sled"
faces = "rear"
item = "battery_large"
base = "birch_12"
runner = "aluminium_angle_30_3"
clamp = "sled_clamp"
clamp_screw = "wood_4x40"
screw = "wood_3x12"
place = { rear = "500 mm", middle = "0 mm", on = "floor" }
)"},
          {"table", R"(
[module.post]
kind = "table"
stands = "post"
faces = "rear"
width = "700 mm"
depth = "500 mm"
height = "700.5 mm"
top_sheet = "birch_21"
post = "table_post"
socket = "table_socket"
socket_screw = "wood_4x20"
place = { rear = "800 mm", middle = "0 mm", on = "floor" }
)"}};
}

Layout laid_out(const std::string& text, const std::string& van = kStraightVan) {
  const auto built = lay_out_text(text, {}, van);
  INFO(words(built.findings));
  REQUIRE(built.value);
  return *built.value;
}

std::size_t count(const Findings& findings, const std::string& code) {
  return static_cast<std::size_t>(std::ranges::count(findings, code, &Finding::code));
}

std::string joist(double at, double width) {
  return "[joist.planted]\nat = " + std::to_string(at) + "\nwidth = " + std::to_string(width) +
         "\nfrom = -780\nto = 780\n";
}

std::string without_joists() {
  const std::string van = kStraightVan;
  return van.substr(0, van.find("[joist.cross]"));
}

}  // namespace

TEST_CASE("whatever kind drills the floor is listed, and kept out of zones that must not be drilled",
          "[layout][floor]") {
  for (const auto& [kind, text] : fixed_kinds()) {
    CAPTURE(kind);
    const Layout layout = laid_out(text);
    REQUIRE_FALSE(layout.floor_bolts.empty());
    CHECK(std::ranges::is_sorted(layout.floor_bolts, {}, &FloorBolt::id));
    // All that sits in the floor by its thread is there.
    const auto in_floor = std::ranges::count_if(layout.parts, [&](const Part& part) {
      return layout.catalogue->bolts.contains(part.stock.key) &&
             std::ranges::count(part.hosts, "vehicle/floor") > 0;
    });
    CHECK(static_cast<std::size_t>(in_floor) == layout.floor_bolts.size());
    for (const FloorBolt& bolt : layout.floor_bolts) {
      const Part* part = layout.find(bolt.id);
      REQUIRE(part != nullptr);
      CHECK(part->frame.z.z == Approx(-1));
      CHECK(length(Vec2{part->frame.origin.x, part->frame.origin.y} - bolt.at) < 1e-9);
    }
    // A tank below one of them, and one below all.
    const Vec2 at = layout.floor_bolts.front().at;
    const auto zone = [](Vec2 low, Vec2 high) {
      return std::string(kStraightVan) + "[no_drill.tank]\nfrom = " + std::to_string(low.x) +
             "\nto = " + std::to_string(high.x) + "\nright = " + std::to_string(low.y) +
             "\nleft = " + std::to_string(high.y) + "\nwhat = \"the water tank\"\n";
    };
    const auto one = lay_out_text(text, {}, zone(at - Vec2{1, 1}, at + Vec2{1, 1}));
    REQUIRE(count(one.findings, "layout.floor_bolt_no_drill") == 1);
    const auto found =
        std::ranges::find(one.findings, "layout.floor_bolt_no_drill", &Finding::code);
    CHECK(found->subjects.front() == layout.floor_bolts.front().id);
    CHECK(found->severity == Severity::error);
    const auto all = lay_out_text(text, {}, zone({1, -790}, {2990, 790}));
    CHECK(count(all.findings, "layout.floor_bolt_no_drill") == layout.floor_bolts.size());
  }
}

TEST_CASE("a bolt through the floor near the edge of a joist is told, with the way to its middle",
          "[layout][floor]") {
  // The floor's bolts are M8: 8 mm from the middle of each to every edge. The floor is 12 mm thick.
  const std::string text = fixed_kinds()[1].text;
  const Layout free = laid_out(text, without_joists() + joist(2900, 60));
  const FloorBolt& bolt = free.floor_bolts.front();
  const auto planted = [&](double off) {
    return lay_out_text(text, {}, without_joists() + joist(bolt.at.x + off, 60));
  };
  struct Row {
    double off;       // of the joist's middle from the bolt
    double measured;  // -1: nothing is told
    double move;
    const char* way;
  };
  for (const Row& row : {Row{0, -1, 0, ""}, Row{22, -1, 0, ""}, Row{25, 5, 3, "to the front"},
                         Row{-25, 5, 3, "to the rear"}, Row{30, 0, 8, "to the front"},
                         Row{33, 0, 11, "to the front"}, Row{34, -1, 0, ""}}) {
    CAPTURE(row.off);
    const auto built = planted(row.off);
    const auto found = std::ranges::find_if(built.findings, [&](const Finding& finding) {
      return finding.code == "layout.floor_bolt_joist_edge" && finding.subjects.front() == bolt.id;
    });
    if (row.measured < 0.0) {
      CHECK(found == built.findings.end());
      continue;
    }
    REQUIRE(found != built.findings.end());
    CHECK(found->severity == Severity::warning);
    CHECK(std::get<double>(found->argument("measured")->value) == Approx(row.measured).margin(1e-3));
    CHECK(std::get<double>(found->argument("required")->value) == Approx(8));
    CHECK(std::get<double>(found->argument("move")->value) == Approx(row.move).margin(1e-3));
    CHECK(std::get<std::string>(found->argument("way")->value) == row.way);
  }
}

TEST_CASE("bolts in the middle of a joist too narrow for them are told, whatever kind sets them there",
          "[layout][floor]") {
  std::string narrow = kStraightVan;
  const std::string wide = "pitch = \"300 mm\"\nwidth = \"60 mm\"";
  narrow.replace(narrow.find(wide), wide.size(), "pitch = \"300 mm\"\nwidth = \"12 mm\"");
  for (const std::size_t i : {0U, 2U}) {  // rack and bench look for joists
    const auto [kind, text] = fixed_kinds()[i];
    CAPTURE(kind);
    CHECK(count(lay_out_text(text).findings, "layout.floor_bolt_joist_edge") == 0);
    const auto built = lay_out_text(text, {}, narrow);
    REQUIRE(built.value);
    REQUIRE_FALSE(built.value->floor_bolts.empty());
    CHECK(count(built.findings, "layout.floor_bolt_joist_edge") == built.value->floor_bolts.size());
  }
}

TEST_CASE("a screw that ends within the floor meets no joist", "[layout][floor]") {
  // 4 x 20 through a socket 5 high or more into 12 mm of floor: whatever joist lies there.
  for (const std::size_t i : {3U, 4U}) {
    const auto [kind, text] = fixed_kinds()[i];
    CAPTURE(kind);
    const Layout layout = laid_out(text);
    const Vec2 at = layout.floor_bolts.front().at;
    const auto built = lay_out_text(text, {}, without_joists() + joist(at.x + 29, 60));
    const bool through = bounds(*layout.find(layout.floor_bolts.front().id)).lo.z < -12.0;
    CHECK((count(built.findings, "layout.floor_bolt_joist_edge") > 0) == through);
  }
}

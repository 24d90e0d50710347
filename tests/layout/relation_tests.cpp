#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A second rack, 500 wide, 400 deep, 500 high, whose place a test writes.
std::string second(const std::string& place, const std::string& more = {}) {
  return std::string(kPlainRack) + R"(
[module.other]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
height = "500 mm"
levels = [0]
)" + more +
         "place = { " + place + " }\n";
}

const char* kSizes = "width = \"500 mm\"\ndepth = \"400 mm\"\n";

Box envelope(const std::string& text, const char* module = "other",
             const std::string& van = kStraightVan) {
  const auto built = lay_out_text(text, {}, van);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  REQUIRE(built.value->module(module) != nullptr);
  return built.value->module(module)->envelope;
}

}  // namespace

TEST_CASE("a module stands beside another, with or without a gap", "[layout][placement]") {
  // The first rack: x 100 to 700, y -500 to 500.
  struct Row {
    const char* place;
    Vec3 lo;
  };
  const auto row = GENERATE(values<Row>({
      {"ahead_of = \"rack\", middle = 0", {700, -250, 0}},
      {"ahead_of = \"rack\", apart = \"20 mm\", middle = 0", {720, -250, 0}},
      {"behind = \"rack\", apart = 5, middle = 0", {-305, -250, 0}},
      {"rear = 100, left_of = \"rack\"", {100, 500, 0}},
      {"rear = 100, right_of = \"rack\", apart = \"12 mm\"", {100, -1012, 0}},
      {"centre = \"vehicle.joist.cross_4.at\", middle = 0", {1050 - 200, -250, 0}},
  }));
  CAPTURE(row.place);
  const Box box = envelope(second(row.place, kSizes));
  CHECK(length(box.lo - row.lo) < 1e-9);
  CHECK(length(box.size() - Vec3{400, 500, 500}) < 1e-9);
}

TEST_CASE("with both ends said a module fills what is between them", "[layout][placement]") {
  const Box x = envelope(second("ahead_of = \"rack\", apart = 10, front = \"1510 mm\", middle = 0",
                                "width = \"500 mm\"\n"));
  CHECK(x.lo.x == Approx(710));
  CHECK(x.hi.x == Approx(1510));
  const Box y = envelope(
      second("rear = \"900 mm\", right = \"-300 mm\", left = \"450 mm\"", "depth = \"400 mm\"\n"));
  CHECK(y.size().y == Approx(750));
}

TEST_CASE("with underside and top said a module fills the height between them", "[layout][placement]") {
  const auto height = [](const std::string& place) {
    std::string text = kPlainRack;
    text.erase(text.find("height = "), text.find('\n', text.find("height = ")) + 1 - text.find("height = "));
    text.replace(text.find("place = "), std::string::npos,
                 "place = { rear = 0, middle = 0, " + place + " }\n");
    const auto built = lay_out_text(text);
    INFO(words(built.findings));
    REQUIRE(built.value);
    return built.value->module("rack")->envelope;
  };
  CHECK(height("bottom = 20, top = 900").lo.z == Approx(20));
  CHECK(height("bottom = 20, top = 900").hi.z == Approx(900));
  CHECK(height("on = \"floor\", top = \"39 in\"").size().z == Approx(39 * 25.4));
}

TEST_CASE("questions find ribs, joists and doors", "[layout][questions]") {
  const std::string van = std::string(kStraightVan) + R"(
[opening.sliding_door]
kind = "sliding"
side = "right"
from = "1000 mm"
to = "2000 mm"
bottom = "0 mm"
top = "1500 mm"
[opening.rear_doors]
kind = "rear"
from = "-700 mm"
to = "700 mm"
bottom = "0 mm"
top = "1500 mm"
)";
  struct Row {
    const char* expression;
    double expected;
  };
  const auto row = GENERATE(values<Row>({
      // Ribs at 250, 750, 1250, ...; joists at 150, 450, 750, ...
      {"next_rib_left(300 mm)", 750},
      {"next_rib_right(1200 mm)", 1250},
      {"previous_rib_left(1200 mm)", 750},
      {"previous_rib_right(800 mm)", 750},
      {"nearest_joist(700 mm)", 750},
      {"nearest_joist(700 mm, 200 mm)", 750},
      // A box 300 behind the door and 400 above it: 3-4-5.
      {"distance_to.sliding_door(100 mm, 700 mm, 1900 mm, 1950 mm)", 500},
      {"600 mm + distance_to.sliding_door(1500 mm, 2500 mm, 0 mm, 100 mm)", 600},
      {"distance_to.rear_doors(620 mm, 900 mm, 0 mm, 100 mm)", 620},
      {"vehicle.joist.cross_2.at + 300 mm", 750},
      {"vehicle.rib.pair_left_2.x", 750},
      {"vehicle.floor_width / 2", 800},
      {"600 mm + sheet.birch_12.thickness", 612},
      {"slide.slide_400.travel + 2 * 100 mm", 600},
  }));
  CAPTURE(row.expression);
  const auto built =
      lay_out_text(kPlainRack, {std::string("module.rack.width=") + row.expression}, van);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->module("rack") != nullptr);
  CHECK(built.value->module("rack")->envelope.size().y == Approx(row.expected));
}

TEST_CASE("an inch project and the same metric project are one layout", "[layout][units]") {
  const auto rack = [](bool inches) {
    // 1016 mm = 40 in, 609.6 mm = 24 in, 914.4 mm = 3 ft, 406.4 mm = 1 ft 4 in, 101.6 mm = 4 in,
    // 860.425 mm = 33 7/8 in; the inch is 25.4 mm exactly (international yard, 1959).
    std::string text = kPlainRack;
    const auto swap = [&](const std::string& from, const std::string& to) {
      text.replace(text.find(from), from.size(), to);
    };
    swap("width = \"1000 mm\"", inches ? "width = \"40 in\"" : "width = \"1016 mm\"");
    swap("depth = \"600 mm\"", inches ? "depth = \"24 in\"" : "depth = \"609.6 mm\"");
    swap("height = \"900 mm\"", inches ? "height = \"3 ft\"" : "height = \"914.4 mm\"");
    swap("\"400 mm\", \"860 mm\"",
         inches ? "\"1 ft 4 in\", \"33 7/8 in\"" : "\"406.4 mm\", \"860.425 mm\"");
    swap("rear = \"100 mm\"", inches ? "rear = \"4 in\"" : "rear = \"101.6 mm\"");
    return lay_out_text(text, {inches ? "project.show=in" : "project.show=mm"});
  };
  const auto inch = rack(true);
  const auto metric = rack(false);
  INFO(words(inch.findings));
  REQUIRE(inch.value);
  REQUIRE(metric.value);
  REQUIRE(inch.value->parts.size() == metric.value->parts.size());
  for (std::size_t i = 0; i < inch.value->parts.size(); ++i) {
    const Part& a = inch.value->parts[i];
    const Part& b = metric.value->parts[i];
    CAPTURE(a.id);
    CHECK(a.id == b.id);
    CHECK(key(*a.shape) == key(*b.shape));  // to 1e-9 mm
    CHECK(length(a.frame.origin - b.frame.origin) < 1e-9);
    CHECK(length(a.frame.x - b.frame.x) + length(a.frame.z - b.frame.z) < 1e-9);
    CHECK(a.mass_kg == Approx(b.mass_kg).epsilon(1e-12));
  }
}

TEST_CASE("floor bolts keep out of zones that must not be drilled, and hard points are noted",
          "[layout][floor]") {
  const auto bolts = lay_out_text(kPlainRack);
  REQUIRE(bolts.value);
  REQUIRE(bolts.value->floor_bolts.size() >= 2);
  const Vec2 at = bolts.value->floor_bolts.front().at;
  const auto text = [](double value) { return std::to_string(value); };
  const std::string zone = std::string(kStraightVan) +
                           "[no_drill.tank]\nfrom = " + text(at.x - 10) +
                           "\nto = " + text(at.x + 100) + "\nright = " + text(at.y - 100) +
                           "\nleft = " + text(at.y + 100) + "\nwhat = \"the fuel tank\"\n";
  const auto built = lay_out_text(kPlainRack, {}, zone);
  INFO(words(built.findings));
  const auto found =
      std::ranges::find(built.findings, "layout.floor_bolt_no_drill", &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(found->subjects.front() == bolts.value->floor_bolts.front().id);
  // 10 mm to the zone's rear edge, and half of an M8 bolt.
  CHECK(advice_text(*found, LengthStyle::millimetres) ==
        "move it at least 14 mm to the rear, and look below the floor before drilling");
  const std::string point =
      zone + "[hard_point.eye]\nx = " + text(at.x) + "\ny = " + text(at.y) + "\nthread = \"M8\"\n";
  const auto held = lay_out_text(kPlainRack, {}, point);
  INFO(words(held.findings));
  REQUIRE(held.value);
  CHECK(held.value->floor_bolts.front().hard_point == "eye");
  CHECK_FALSE(has_code(held.findings, "layout.floor_bolt_no_drill"));
}

TEST_CASE("a project's currency is three capitals", "[layout][findings]") {
  CHECK(lay_out_text(kPlainRack).value->project.currency == "EUR");
  CHECK(lay_out_text(kPlainRack, {"project.currency=CHF"}).value->project.currency == "CHF");
}

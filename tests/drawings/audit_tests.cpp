#include "drawings/audit.hpp"
#include "drawings/sheet.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;

namespace {

Drawing page() {
  TitleBlock block;
  block.title = "Test";
  block.number = "T-1";
  return new_page(PageSize::a4, block);
}

std::size_t count(const std::vector<Fault>& faults, FaultKind kind) {
  return static_cast<std::size_t>(std::ranges::count(faults, kind, &Fault::kind));
}

const Pen kThin{LineType::continuous, 0.25};

}  // namespace

TEST_CASE("an empty page of every size is clean", "[drawings][audit]") {
  const PageSize size = GENERATE(PageSize::a4, PageSize::a3, PageSize::a2, PageSize::a1);
  TitleBlock block{
      .owner = "Owner",
      .creator = "Somebody with quite a long name",
      .date = "2026-11-24",
      .number = "PROJECT-M12",
      .title = "Drawer side left, with a long title that must be fitted into its field",
      .subtitle = "Mark P3",
      .type = "Part drawing",
      .material = "Birch plywood",
      .stock = "Birch plywood 12 mm, waterproof glue, both faces",
      .finish = "as supplied",
      .scale = "1:10",
      .mass = "12.34 kg",
      .quantity = "12",
      .status = "Not for cutting",
      .sheet = "1/12"};
  Drawing d = new_page(size, block);
  add_stamp(d);
  for (const Fault& f : audit(d)) UNSCOPED_INFO(f.what);
  CHECK(audit(d).empty());
}

TEST_CASE("the audit finds what is planted", "[drawings][audit]") {
  Drawing d = page();
  add_text(d, "482.6", {100, 200}, 3.5);
  REQUIRE(audit(d).empty());

  SECTION("a text on a text") {
    add_text(d, "90", {104, 201}, 3.5);
    CHECK(count(audit(d), FaultKind::text_on_text) == 1);
  }
  SECTION("a line through a text") {
    add_line(d, {90, 198}, {110, 204}, kThin);
    CHECK(count(audit(d), FaultKind::text_on_line) == 1);
  }
  SECTION("a line that only touches with its width") {
    add_line(d, {90, 199.95}, {110, 199.95}, {LineType::continuous, 0.5});
    CHECK(count(audit(d), FaultKind::text_on_line) == 1);
  }
  SECTION("a line beside it is no fault") {
    add_line(d, {90, 199.0}, {130, 199.0}, kThin);
    CHECK(audit(d).empty());
  }
  SECTION("an arc through a text") {
    add_circle(d, {102, 201}, 3.0, kThin);
    CHECK(count(audit(d), FaultKind::text_on_line) > 0);
  }
  SECTION("an arrow head in a text") {
    add_arrow(d, {103, 201}, {1, 0});
    CHECK(count(audit(d), FaultKind::text_on_line) > 0);
  }
  SECTION("a vertical text on a horizontal one") {
    add_text(d, "1200", {104, 195}, 3.5, Align::left, true);
    CHECK(count(audit(d), FaultKind::text_on_text) == 1);
  }
  SECTION("ink outside of the frame") {
    add_line(d, {100, 150}, {205, 150}, kThin);
    CHECK(count(audit(d), FaultKind::outside_frame) == 1);
    add_text(d, "out", {198, 150.5}, 3.5);
    CHECK(count(audit(d), FaultKind::outside_frame) == 2);
  }
  SECTION("a view in the blank part of another one") {
    const auto view = [&](int index, Vec2 lo, Vec2 hi) {
      d.lines.push_back({lo, {hi.x, lo.y}, kThin, -1, false, index});
      d.lines.push_back({{hi.x, lo.y}, hi, kThin, -1, false, index});
    };
    view(0, {60, 100}, {120, 160});
    view(1, {130, 100}, {160, 160});
    CHECK(audit(d).empty());
    view(2, {70, 120}, {100, 150});
    CHECK(count(audit(d), FaultKind::view_on_view) == 1);
  }
  SECTION("a size that says something else than the geometry") {
    d.dimensions.push_back(
        {"482.6", 100.0, 100.0 + 48.26, axis_map(0, 100, 0.1), LengthStyle::millimetres});
    CHECK(audit(d).empty());
    d.dimensions.push_back(
        {"482.5", 100.0, 100.0 + 48.26, axis_map(0, 100, 0.1), LengthStyle::millimetres});
    CHECK(count(audit(d), FaultKind::wrong_value) == 1);
    d.dimensions.push_back({"R5", 100.0, 110.0, axis_map(0, 100, 0.1), LengthStyle::millimetres});
    CHECK(count(audit(d), FaultKind::wrong_value) == 2);
  }
  SECTION("a size over a break counts what was left out") {
    const AxisMap broken{{{0, 50}, {100, 70}, {900, 73}, {1000, 93}}};
    d.dimensions.push_back({"1000", 50, 93, broken, LengthStyle::millimetres});
    CHECK(audit(d).empty());
    d.dimensions.push_back({"215", 50, 93, broken, LengthStyle::millimetres});
    CHECK(count(audit(d), FaultKind::wrong_value) == 1);
  }
  SECTION("a letter that the alphabet does not have") {
    add_text(d, "漢", {100, 150}, 3.5);
    CHECK(count(audit(d), FaultKind::unknown_letter) == 1);
  }
}

TEST_CASE("printed lengths read back", "[drawings][audit]") {
  CHECK(printed_length("482.6", LengthStyle::millimetres) == 482.6);
  CHECK(printed_length("(90)", LengthStyle::millimetres) == 90);
  CHECK(printed_length("19", LengthStyle::inches) == Approx(482.6));
  CHECK(printed_length("5 13/64", LengthStyle::inches) == Approx((5 + 13.0 / 64) * 25.4));
  CHECK(printed_length("3/8", LengthStyle::inches) == Approx(9.525));
  CHECK(std::isnan(printed_length("Ø7", LengthStyle::millimetres)));
}

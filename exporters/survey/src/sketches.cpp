#include "sketches.hpp"

#include "numbered.hpp"

#include <algorithm>
#include <cassert>

namespace ribbay::detail {

namespace {

const Pen kWide = kFormPens.visible();
const Pen kThin = kFormPens.thin();
constexpr double kLetters = 2.5;

constexpr double kFloor = 140.0;  // length of the load floor

/// Where a point of a sketch lies on paper. Sketches are drawn in mm of paper.
struct Place {
  Vec2 origin;
  Vec2 operator()(double x, double y) const { return origin + Vec2{x, y}; }
};

void level(Drawing& d, const Place& at, double a, double b, double y, double from_a, double from_b,
           const NumberLabel& text) {
  add_level(d, at(a, 0).x, at(b, 0).x, at(0, y).y, at(0, from_a).y, at(0, from_b).y, text);
}

void upright(Drawing& d, const Place& at, double a, double b, double x, double from_a,
             double from_b, const NumberLabel& text) {
  add_upright(d, at(0, a).y, at(0, b).y, at(x, 0).x, at(from_a, 0).x, at(from_b, 0).x, text);
}

void path(Drawing& d, const std::vector<Vec2>& points, Pen pen, bool closed = false) {
  for (std::size_t i = 1; i < points.size(); ++i) add_line(d, points[i - 1], points[i], pen);
  if (closed) add_line(d, points.back(), points.front(), pen);
}

void caption(Drawing& d, const Rect& area, const std::string& text) {
  add_text(d, text, {area.lo.x, area.hi.y - 3.5}, 3.5);
}

}  // namespace

const BlankField& Numbers::field(std::string_view table, std::string_view key) const {
  const auto t = std::ranges::find(tables_, table, &BlankTable::name);
  assert(t != tables_.end());
  const auto f = std::ranges::find(t->fields, key, &BlankField::key);
  assert(f != t->fields.end() && !f->blanks.empty());
  return *f;
}

int Numbers::of(std::string_view table, std::string_view key) const {
  return field(table, key).blanks.front().number;
}

std::string Numbers::range(std::string_view table, std::string_view key) const {
  const BlankField& f = field(table, key);
  return std::to_string(f.blanks.front().number) + "-" + std::to_string(f.blanks.back().number);
}

// The floor from above: rear to the left, so that forward is to the right and left is up.
void add_plan_sketch(Drawing& d, const Rect& area, const Numbers& numbers, int stations) {
  caption(d, area, "Plan: the floor from above, rear on the left");
  constexpr double half = 31.0;  // half of the floor's width
  constexpr double face = half - 13.0;
  const Place at{{area.lo.x + 10.0, area.hi.y - 15.0 - half}};
  path(d, {at(kFloor, half), at(0, half), at(0, -half), at(kFloor, -half)}, kWide, true);
  path(d,
       {at(kFloor, half), at(kFloor + 16, half - 1), at(kFloor + 24, half - 9),
        at(kFloor + 24, 9 - half), at(kFloor + 16, 1 - half), at(kFloor, -half)},
       kThin);
  add_line(d, at(-6, 0), at(kFloor + 6, 0), kFormPens.centre());
  add_text(d, "cab", at(kFloor + 14, 8), kLetters, Align::centre);
  add_text(d, "centre line", at(78, 1.2), kLetters);
  for (const double side : {1.0, -1.0})
    path(d, {at(34, side * half), at(34, side * face), at(68, side * face), at(68, side * half)},
         kWide);
  add_rect(d, {at(94, -half - 1.2), at(126, -half + 1.2)}, kThin);
  add_text(d, "side door", at(110, -half + 3.2), kLetters, Align::centre);
  // Stations: a mark across each wall, the name above, the number below.
  for (int s = 0; s < stations; ++s) {
    const std::string name = "s" + std::to_string(s + 1);
    const double x = kFloor * s / (stations - 1);
    const double foot = -half - 5.5 - (s % 2 == 0 ? 0.0 : 2.0 * kRing + 0.5);
    add_line(d, at(x, half + 1.0), at(x, half + 4.0), kThin);
    add_line(d, at(x, -half - 1.6), at(x, foot + kRing), kThin);
    add_text(d, name, at(x, half + 5.0), kLetters, Align::centre);
    add_number(d, at(x, foot), numbers.of("station." + name, "x"));
  }
  add_line(d, at(4, 6), at(4, 14), kThin);
  level(d, at, 0, 4, 10, 10, 10, label(numbers.of("vehicle", "rear_sill")));
  level(d, at, 0, 34, half - 6, half - 6, half - 6, label(numbers.of("arch.left", "from")));
  level(d, at, 0, 68, -half + 6, -half + 6, -half + 6, label(numbers.of("arch.right", "to"), 0.25));
  level(d, at, 0, 34, -half + 14, -half + 14, -half + 14,
        label(numbers.of("arch.right", "from"), 0.7));
  level(d, at, 0, 68, face - 5, face - 5, face, label(numbers.of("arch.left", "to"), 0.6));
  upright(d, at, 0, face, 62, 62, 62, label(numbers.of("arch.left", "half_width"), 0.45));
  upright(d, at, -face, 0, 62, 62, 62, label(numbers.of("arch.right", "half_width"), 0.5));
}

// The left wall from the inside, so that the rear is on the left again.
void add_side_sketch(Drawing& d, const Rect& area, const Numbers& numbers) {
  caption(d, area, "Side elevation: the left wall from inside; dashed, the door on the right");
  constexpr double roof = 54.0;
  const Place at{{area.lo.x + 10.0, area.hi.y - 74.0}};
  path(d, {at(0, 0), at(0, roof - 3), at(4, roof), at(kFloor, roof), at(kFloor, 0)}, kWide, true);
  path(d, {at(0, 0), at(0, -3), at(kFloor, -3), at(kFloor, 0)}, kThin);
  path(d,
       {at(kFloor, roof), at(kFloor + 10, roof - 6), at(kFloor + 24, roof - 30),
        at(kFloor + 30, roof - 34), at(kFloor + 30, -3), at(kFloor, -3)},
       kThin);
  for (const double x : {51.0, 156.0}) {
    add_circle(d, at(x, -6), 8.0, kThin);
    add_line(d, at(x - 1.5, -6), at(x + 1.5, -6), kThin);
  }
  for (const double x : {14.0, 30.0, 78.0, 94.0, 110.0, 126.0})
    add_rect(d, {at(x - 2, -6), at(x + 2, -3)}, kThin);
  for (const double x : {16.0, 36.0, 56.0, 76.0}) {
    const double foot = x > 34 && x < 68 ? 15.0 : 3.0;
    add_rect(d, {at(x - 1.5, foot), at(x + 1.5, 47)}, kThin);
  }
  path(d,
       {at(34, 0), at(34, 10), at(35.5, 13.5), at(39, 15), at(63, 15), at(66.5, 13.5), at(68, 10),
        at(68, 0)},
       kWide);
  add_rect(d, {at(94, 2), at(126, 48)}, kFormPens.hidden());

  level(d, at, 0, 16, 62, roof - 3, 47, label(numbers.of("rib.left", "x")));
  level(d, at, 16, 36, 62, 47, 47, label(numbers.of("rib.left", "pitch")));
  level(d, at, 74.5, 77.5, 62, 47, 47, label(numbers.of("rib.left", "width")));
  upright(d, at, 0, 3, 8, 8, 14.5, label(numbers.of("rib.left", "from")));
  upright(d, at, 0, 47, 25, 25, 17.5, label(numbers.of("rib.left", "to")));
  add_pointer(d, at(85, 36), at(77.5, 30), numbers.of("rib.left", "steel"));
  upright(d, at, 0, 15, 59, 59, 59, label(numbers.of("arch.left", "height")));
  add_pointer(d, at(46, 27), at(36, 13.8), numbers.of("arch.left", "radius"));
  upright(d, at, 0, 2, 101, 101, 101, label(numbers.of("opening.side_door", "bottom")));
  upright(d, at, 0, 48, 116, 116, 116, label(numbers.of("opening.side_door", "top")));
  level(d, at, 0, 14, -14, -3, -6, label(numbers.of("joist.cross", "at")));
  level(d, at, 14, 30, -14, -6, -6, label(numbers.of("joist.cross", "pitch")));
  level(d, at, 76, 80, -14, -6, -6, label(numbers.of("joist.cross", "width")));
  level(d, at, 0, 51, -22, -3, -6, label(numbers.of("axle.rear", "x")));
  level(d, at, 0, 94, -29.5, -3, 2, label(numbers.of("opening.side_door", "from")));
  level(d, at, 0, 126, -37, -3, 2, label(numbers.of("opening.side_door", "to")));
  level(d, at, 0, 156, -44.5, -3, -6, label(numbers.of("axle.front", "x")));
}

void add_section_sketch(Drawing& d, const Rect& area, const Numbers& numbers) {
  caption(d, area, "Cross-section: looking forward, with the numbers of station 1");
  const Place at{{area.lo.x + 62.0, area.hi.y - 82.0}};
  const std::vector<Vec2> half{{29, 0}, {31, 12}, {30, 34}, {27, 50}, {20, 60}, {8, 64}, {0, 64.5}};
  for (const double side : {1.0, -1.0}) {
    std::vector<Vec2> wall;
    for (const Vec2 p : half) wall.push_back(at(side * p.x, p.y));
    path(d, wall, kWide);
  }
  path(d, {at(29, 0), at(29, -4), at(-29, -4), at(-29, 0)}, kThin, true);
  add_line(d, at(0, -6), at(0, 68), kFormPens.centre());
  path(d, {at(29.6, 3), at(26.6, 3), at(27.4, 14), at(26.6, 34), at(24.6, 46), at(27.8, 46)},
       kThin);
  add_rect(d, {at(-26, 1), at(26, 57)}, kFormPens.hidden());

  upright(d, at, 0, 50, 50, 29, 27, label(numbers.range("station.s1", "heights")));
  level(d, at, -27, 0, 50, 50, 50, label(numbers.range("station.s1", "left"), 0.45));
  level(d, at, 0, 27, 50, 50, 50, label(numbers.range("station.s1", "right"), 0.45));
  level(d, at, -30.8, 30.8, 12, 12, 12, label(numbers.range("station.s1", "full"), 0.68));
  add_slanted(d, at(-29, 0), at(27, 50), label(numbers.of("diagonal.across_s1", "length"), 0.36));
  level(d, at, 26.8, 30.2, 28, 28, 28, label(numbers.of("rib.left", "depth")));
  upright(d, at, -4, 0, -36, -29, -29, label(numbers.of("vehicle", "floor_thickness")));
  level(d, at, -26, 0, -13, 1, -6, label(numbers.of("opening.rear_doors", "to")));
  level(d, at, 0, 26, -13, -6, 1, label(numbers.of("opening.rear_doors", "from")));
  upright(d, at, 0, 57, -47, -29, -26, label(numbers.of("opening.rear_doors", "top")));
  add_pointer(d, at(39, -9), at(22, 1), numbers.of("opening.rear_doors", "bottom"));
  add_text(d, "left", at(-58, 30), kLetters);
  add_text(d, "right", at(56, 30), kLetters);

  // The floor once more, small, for its two diagonals.
  const Place floor{{area.lo.x + 132.0, area.hi.y - 74.0}};
  add_text(d, "Floor diagonals", floor(25, 32), kLetters, Align::centre);
  add_rect(d, {floor(0, 0), floor(50, 26)}, kWide);
  add_text(d, "s1", floor(0, 27.5), kLetters, Align::centre);
  add_text(d, "last", floor(50, 27.5), kLetters, Align::centre);
  add_slanted(d, floor(0, 26), floor(50, 0),
              label(numbers.of("diagonal.floor_left_right", "length"), 0.25));
  add_slanted(d, floor(0, 0), floor(50, 26),
              label(numbers.of("diagonal.floor_right_left", "length"), 0.25));
}

}  // namespace ribbay::detail

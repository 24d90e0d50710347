#include "numbered.hpp"

#include "drawings/lettering.hpp"

#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kSmallDigits = 1.8;  // of a long number in a ring
constexpr double kDigits = 2.5;       // height of the letters in a ring
constexpr double kOverrun = 1.5;      // of an extension line beyond the dimension line
constexpr double kOutside = 5.0;      // length of the arrows of a short dimension
constexpr double kArrows = 7.0;       // room for two of them inside

void line(Drawing& drawing, Vec2 a, Vec2 b) {
  add_line(drawing, a, b, kFormPens.thin());
}

void arrow(Drawing& drawing, Vec2 tip, Vec2 tail) {
  add_arrow(drawing, tip, normalized(tip - tail));
}

/// Half of what a label takes along a line in direction `along`.
double half_gap(const NumberLabel& label, Vec2 along) {
  if (label.ring) return kRing;
  const double across = text_width(label.text, kDigits) / 2 + 1.0;
  return std::abs(along.x) * across + std::abs(along.y) * (kDigits / 2 + 1.0);
}

void put(Drawing& drawing, Vec2 centre, const NumberLabel& label) {
  if (label.ring) add_circle(drawing, centre, kRing, kFormPens.thin());
  const double height = label.ring && label.text.size() > 3 ? kSmallDigits : kDigits;
  add_text(drawing, label.text, centre - Vec2{0, height / 2}, height, Align::centre);
}

void dimension_line(Drawing& drawing, Vec2 a, Vec2 b, const NumberLabel& label) {
  const double size = length(b - a);
  const Vec2 along = (b - a) * (1.0 / size);
  const double gap = half_gap(label, along);
  if (size >= 2.0 * gap + kArrows) {
    const Vec2 middle = a + along * (size * label.share);
    line(drawing, a, middle - along * gap);
    line(drawing, middle + along * gap, b);
    arrow(drawing, a, b);
    arrow(drawing, b, a);
    put(drawing, middle, label);
    return;
  }
  const Vec2 before = a - along * kOutside;
  const Vec2 behind = b + along * kOutside;
  line(drawing, before, a);
  line(drawing, b, behind);
  arrow(drawing, a, before);
  arrow(drawing, b, behind);
  put(drawing, behind + along * gap, label);
}

/// An extension line from `from` past `to`.
void extension(Drawing& drawing, Vec2 from, Vec2 to) {
  if (length(to - from) > 0.1) line(drawing, from, to + normalized(to - from) * kOverrun);
}

}  // namespace

NumberLabel label(int number, double share) {
  return {std::to_string(number), true, share};
}
NumberLabel label(const std::string& range, double share) {
  return {range, false, share};
}

void add_number(Drawing& drawing, Vec2 centre, int number) {
  put(drawing, centre, label(number));
}

void add_pointer(Drawing& drawing, Vec2 ring, Vec2 tip, int number) {
  const Vec2 along = normalized(tip - ring);
  line(drawing, ring + along * kRing, tip);
  add_arrow(drawing, tip, along);
  add_number(drawing, ring, number);
}

void add_level(Drawing& drawing, double a, double b, double y, double from_a, double from_b,
               const NumberLabel& label) {
  extension(drawing, {a, from_a}, {a, y});
  extension(drawing, {b, from_b}, {b, y});
  dimension_line(drawing, {a, y}, {b, y}, label);
}

void add_upright(Drawing& drawing, double a, double b, double x, double from_a, double from_b,
                 const NumberLabel& label) {
  extension(drawing, {from_a, a}, {x, a});
  extension(drawing, {from_b, b}, {x, b});
  dimension_line(drawing, {x, a}, {x, b}, label);
}

void add_slanted(Drawing& drawing, Vec2 a, Vec2 b, const NumberLabel& label) {
  dimension_line(drawing, a, b, label);
}

}  // namespace ribbay::detail

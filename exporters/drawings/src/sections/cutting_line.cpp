#include "sections/cutting_line.hpp"

#include <string>

namespace ribbay::detail {

namespace {

constexpr double kEnd = 6.0;     // length of a wide end
constexpr double kShaft = 6.0;   // of an arrow
constexpr double kHeight = 3.5;  // of the letters
constexpr Pen kThin{LineType::chain, 0.18};
constexpr Pen kWide{LineType::continuous, 0.7};
constexpr Pen kArrow{LineType::continuous, 0.35};

}  // namespace

void add_cutting_line(Drawing& d, const Rect& view, const CuttingLine& line) {
  const auto point = [&](double along) {
    return line.upright ? Vec2{line.at, along} : Vec2{along, line.at};
  };
  const double lo = line.upright ? view.lo.y : view.lo.x;
  const double hi = line.upright ? view.hi.y : view.hi.x;
  const double off = 2.0 + 9.0 * line.tier;
  const double ends[2][2] = {{lo - off, lo - off - kEnd}, {hi + off, hi + off + kEnd}};
  add_line(d, point(ends[0][0]), point(ends[1][0]), kThin);
  for (const auto& [inner, outer] : ends) {
    add_line(d, point(inner), point(outer), kWide);
    const Vec2 tip = point(outer + (inner - outer) * 0.2) - line.look * 0.35;
    const Vec2 tail = tip - line.look * kShaft;
    add_line(d, tail, tip - line.look, kArrow);
    add_arrow(d, tip, line.look);
    const Vec2 middle = tail - line.look * 2.6;
    add_text(d, std::string(1, line.letter), middle - Vec2{0, kHeight / 2}, kHeight, Align::centre);
  }
}

}  // namespace ribbay::detail

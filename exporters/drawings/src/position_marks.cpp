#include "position_marks.hpp"

#include <string>

namespace ribbay::detail {

namespace {

// On paper, from the outline outwards; within the first dimension line and its value.
constexpr double kNear = 0.6;
constexpr double kFar = 2.0;
constexpr double kFarNumbered = 2.6;
constexpr double kLetters = 1.8;
constexpr double kClear = 0.4;

}  // namespace

bool add_position_marks(Drawing& d, const ViewPlace& place, ViewSide side,
                        const std::vector<double>& at, Pen pen) {
  const bool across = side == ViewSide::bottom || side == ViewSide::top;
  const double out = side == ViewSide::bottom || side == ViewSide::left ? -1.0 : 1.0;
  const Rect& o = place.outline;
  const double edge = across ? (out < 0.0 ? o.lo.y : o.hi.y) : (out < 0.0 ? o.lo.x : o.hi.x);
  const auto point = [&](double along, double off) {
    return across ? Vec2{along, edge + out * off} : Vec2{edge + out * off, along};
  };
  bool any = at.empty();
  for (std::size_t i = 0; i < at.size(); ++i) {
    const double along = (across ? place.x : place.y).paper(at[i]);
    const Vec2 end = point(along, kFarNumbered + kClear + 0.1);
    const InkText number{
        std::to_string(i + 1),
        across ? end - Vec2{0, out < 0.0 ? kLetters : 0.0} : end - Vec2{0, kLetters / 2}, kLetters,
        across      ? Align::centre
        : out < 0.0 ? Align::right
                    : Align::left};
    const bool numbered = is_free(d, extent(number), kClear);
    add_line(d, point(along, kNear), point(along, numbered ? kFarNumbered : kFar), pen);
    if (!numbered) continue;
    d.texts.push_back(number);
    any = true;
  }
  return any;
}

}  // namespace ribbay::detail

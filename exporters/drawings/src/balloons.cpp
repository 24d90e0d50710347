#include "balloons.hpp"

#include "drawings/dimension.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;

bool segments_cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const auto side = [](Vec2 p, Vec2 q, Vec2 r) { return cross(q - p, r - p); };
  return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

void draw(Drawing& d, const Balloon& b, Vec2 centre, Pen pen) {
  const Vec2 towards = normalized(b.anchor - centre);
  add_line(d, centre + towards * kBalloonRadius, b.anchor, pen);
  add_dot(d, b.anchor, 0.5);
  add_circle(d, centre, kBalloonRadius, pen);
  add_text(d, b.mark, centre - Vec2{0, kLetters / 2}, kLetters, Align::centre);
}

/// Balloons of one column at `x`, in the order that keeps their leaders apart.
bool add_column(Drawing& d, std::vector<Balloon> column, double x, double low, double high,
                Pen pen) {
  if (column.empty()) return true;
  std::ranges::stable_sort(column, {}, [](const Balloon& b) { return b.anchor.y; });
  std::vector<double> wanted;
  for (const Balloon& b : column) wanted.push_back(b.anchor.y);
  const std::vector<double> at =
      spread(wanted, kBalloonPitch, low + kBalloonRadius, high - kBalloonRadius);
  if (at.empty()) return false;
  // Swapping two that cross shortens both leaders together, so this ends.
  for (bool crossed = true; crossed;) {
    crossed = false;
    for (std::size_t i = 0; i < column.size(); ++i) {
      for (std::size_t j = i + 1; j < column.size(); ++j) {
        if (segments_cross({x, at[i]}, column[i].anchor, {x, at[j]}, column[j].anchor)) {
          std::swap(column[i], column[j]);
          crossed = true;
        }
      }
    }
  }
  for (std::size_t i = 0; i < column.size(); ++i) {
    const Vec2 centre{x, at[i]};
    const Rect box{centre - Vec2{kBalloonRadius, kBalloonRadius},
                   centre + Vec2{kBalloonRadius, kBalloonRadius}};
    if (!is_free(d, box, 0.5) || !is_clear(d, centre, column[i].anchor)) return false;
    draw(d, column[i], centre, pen);
  }
  return true;
}

}  // namespace

bool add_balloons(Drawing& drawing, const Rect& view, const std::vector<Balloon>& balloons,
                  double low, double high, Pen pen) {
  std::vector<Balloon> order = balloons;
  std::ranges::stable_sort(order, {}, [](const Balloon& b) { return b.anchor.x; });
  const auto half = static_cast<std::ptrdiff_t>((order.size() + 1) / 2);
  const std::vector<Balloon> left(order.begin(), order.begin() + half);
  const std::vector<Balloon> right(order.begin() + half, order.end());
  const double beside = kBalloonRoom - kBalloonRadius - 2.0;
  return add_column(drawing, left, view.lo.x - beside, low, high, pen) &&
         add_column(drawing, right, view.hi.x + beside, low, high, pen);
}

bool add_balloon(Drawing& drawing, const Balloon& balloon, const Rect& avoid, Pen pen) {
  const Vec2 reach{kBalloonRadius, kBalloonRadius};
  for (double radius = 12.0; radius < 160.0; radius += 3.0) {
    for (int step = 0; step < 24; ++step) {
      const double angle = (step * 5 % 24) * std::numbers::pi / 12.0 + 0.13;
      const Vec2 centre = balloon.anchor + Vec2{std::cos(angle), std::sin(angle)} * radius;
      const Rect box{centre - reach, centre + reach};
      if (overlap(box, grown(avoid, 2.0)) || !is_free(drawing, box, 1.0) ||
          !is_clear(drawing, centre, balloon.anchor)) {
        continue;
      }
      draw(drawing, balloon, centre, pen);
      return true;
    }
  }
  return false;
}

}  // namespace ribbay::detail

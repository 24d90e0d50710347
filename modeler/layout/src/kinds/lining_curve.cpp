#include "lining_curve.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

/// What stays straight at the end of a sheet that is bent over forms or sprung: nothing turns it
/// there. Half an inch, a choice.
constexpr double kLeastFlat = 12.0;
/// A sheet sprung by less counts as flat, mm.
constexpr double kLeastBow = 0.5;

Vec2 into_room(Vec2 along) {
  return {along.y, -along.x};
}

/// Corners of the polyline that follows `bare` within `smooth`, by halving at the worst place.
void follow(const std::vector<RoomPoint>& line, std::size_t first, std::size_t last, double smooth,
            std::vector<Vec2>& corners) {
  const Vec2 a{line[first].s, line[first].bare};
  const Vec2 b{line[last].s, line[last].bare};
  std::size_t worst = first;
  double most = std::max(smooth, kSame);
  for (std::size_t i = first + 1; i < last; ++i) {
    const double chord = std::lerp(a.y, b.y, (line[i].s - a.x) / (b.x - a.x));
    const double off = std::abs(line[i].bare - chord);
    if (off <= most) continue;
    most = off;
    worst = i;
  }
  if (worst != first) {
    follow(line, first, worst, smooth, corners);
    follow(line, worst, last, smooth, corners);
  } else {
    corners.push_back(b);
  }
}

}  // namespace

Vec2 LiningCurve::along(std::size_t flat) const {
  return normalized(corners_[flat + 1] - corners_[flat]);
}

double LiningCurve::angle(std::size_t corner) const {
  if (corner == 0 || corner + 1 == corners_.size()) return 0.0;
  const Vec2 in = along(corner - 1);
  const Vec2 out = along(corner);
  return -std::atan2(cross(in, out), dot(in, out));
}

double LiningCurve::back_radius(std::size_t corner) const {
  return angle(corner) > 0.0 ? radius_ + thickness_ : radius_;
}

double LiningCurve::tangent(std::size_t corner) const {
  return back_radius(corner) * std::tan(std::abs(angle(corner)) / 2);
}

double LiningCurve::flat_length(std::size_t flat) const {
  return length(corners_[flat + 1] - corners_[flat]) - tangent(flat) - tangent(flat + 1);
}

double LiningCurve::flat_start(std::size_t flat) const {
  return corners_[flat].x + along(flat).x * tangent(flat);
}

double LiningCurve::flat_end(std::size_t flat) const {
  return corners_[flat + 1].x - along(flat).x * tangent(flat + 1);
}

std::optional<TightBend> LiningCurve::tight_bend() const {
  std::optional<TightBend> worst;
  for (std::size_t i = 0; i < flats(); ++i) {
    if (flat_length(i) >= kLeastFlat - kSame) continue;
    const double turn = std::tan(std::abs(angle(i)) / 2) + std::tan(std::abs(angle(i + 1)) / 2);
    const double room = length(corners_[i + 1] - corners_[i]) - kLeastFlat;
    const std::size_t corner = std::abs(angle(i)) > std::abs(angle(i + 1)) ? i : i + 1;
    const double fits = turn > 0.0 ? std::max(room / turn - thickness_, 0.0) : 0.0;
    if (worst && worst->fits <= fits) continue;
    worst = {corners_[corner].x, std::abs(angle(corner)), fits};
  }
  return worst;
}

CurvePoint LiningCurve::at(double s) const {
  for (std::size_t i = 0; i < flats(); ++i) {
    const Vec2 way = along(i);
    const Vec2 start = corners_[i] + way * tangent(i);
    const double end = flat_end(i);
    if (s <= end + kSame || i + 1 == flats()) {
      const double run = (s - start.x) / way.x;
      return {start + way * run, way, i, run};
    }
    const double next = flat_start(i + 1);
    if (s > next - kSame) continue;
    // On the bend: a circle about a point on the side it turns to.
    const double side = angle(i + 1) > 0.0 ? 1.0 : -1.0;
    const double radius = back_radius(i + 1);
    const Vec2 centre = corners_[i + 1] - way * tangent(i + 1) + into_room(way) * (side * radius);
    const double rise = std::sqrt(std::max(radius * radius - (s - centre.x) * (s - centre.x), 0.0));
    const Vec2 out = Vec2{s - centre.x, side * rise} * (side / radius);
    return {{s, centre.y + side * rise}, {out.y, -out.x}, std::nullopt, 0.0};
  }
  return {};
}

double LiningCurve::excess(const std::vector<RoomPoint>& line) const {
  double most = -std::numeric_limits<double>::infinity();
  for (const RoomPoint& point : line) most = std::max(most, at(point.s).at.y - point.free);
  return most;
}

LiningCurve LiningCurve::moved(double h) const {
  LiningCurve result = *this;
  for (Vec2& corner : result.corners_) corner.y += h;
  return result;
}

FoldedSheet LiningCurve::fold(double width, double k_factor) const {
  FoldedSheet sheet{.thickness = thickness_, .k_factor = k_factor, .flats = {}};
  for (std::size_t i = 0; i < flats(); ++i) {
    Flat flat{.outline = {rectangle({0, 0}, {width, flat_length(i)}), {}}};
    if (i > 0) {
      const double end = flat_length(i - 1);
      flat.parent = static_cast<int>(i) - 1;
      flat.a = {0, end};
      flat.b = {width, end};
      flat.angle = angle(i);
      flat.radius = radius_;
    }
    sheet.flats.push_back(std::move(flat));
  }
  return sheet;
}

LiningCurve following(const std::vector<RoomPoint>& line, double gap, double smooth, double radius,
                      double thickness) {
  std::vector<Vec2> corners{{line.front().s, line.front().bare}};
  follow(line, 0, line.size() - 1, smooth, corners);
  const LiningCurve on_wall(std::move(corners), radius, thickness);
  if (on_wall.tight_bend()) return on_wall;
  return on_wall.moved(-on_wall.excess(line) - gap);
}

LiningCurve sprung(const std::vector<RoomPoint>& line, double gap, double thickness) {
  const Vec2 a{line.front().s, line.front().free - gap};
  const Vec2 b{line.back().s, line.back().free - gap};
  const double chord = length(b - a);
  const Vec2 out = into_room(normalized(b - a)) * -1.0;
  const auto arc = [&](double rise) {
    const double half = 2 * std::atan(2 * rise / chord);  // of the angle it turns through
    const Vec2 corner = (a + b) * 0.5 + out * (chord / 2 * std::tan(half));
    const double tangent = chord / 2 / std::cos(half) - kLeastFlat;
    return LiningCurve({a, corner, b}, tangent / std::tan(half) - thickness, thickness);
  };
  const LiningCurve straight({a, b}, 0.0, thickness);
  const auto fits = [&](double rise) { return arc(rise).excess(line) <= -gap + kSame; };
  if (!fits(kLeastBow)) return straight.moved(-std::max(straight.excess(line) + gap, 0.0));
  double low = kLeastBow;
  double high = chord / 4;
  while (high - low > kSame) {
    const double middle = (low + high) / 2;
    (fits(middle) ? low : high) = middle;
  }
  return arc(low);
}

double bow(const LiningCurve& curve) {
  const Vec2 a = curve.corners().front();
  const Vec2 b = curve.corners().back();
  const CurvePoint middle = curve.at((a.x + b.x) / 2);
  return std::abs(cross(normalized(b - a), middle.at - a));
}

}  // namespace ribbay::detail

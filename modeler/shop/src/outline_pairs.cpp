#include "shop/outline_pairs.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace ribbay {

namespace {

constexpr int kEvenSteps = 48;           ///< places between those where corners pass corners
constexpr std::size_t kMostPlaces = 400;
constexpr int kHalvings = 24;

struct Bounds {
  Vec2 lo{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  Vec2 hi{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  void add(const Polygon& polygon) {
    for (const Vec2 p : polygon) {
      lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
      hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
    }
  }
  Vec2 size() const { return hi - lo; }
};

Bounds bounds_of(const Polygon& polygon) {
  Bounds bounds;
  bounds.add(polygon);
  return bounds;
}

Polygon shifted(Polygon polygon, Vec2 by) {
  for (Vec2& p : polygon) p = p + by;
  return polygon;
}

Polygon half_turned(Polygon polygon) {
  for (Vec2& p : polygon) p = p * -1.0;
  return polygon;
}

/// With x and y exchanged; walked the other way, so that it stays counter-clockwise.
Polygon exchanged(Polygon polygon) {
  for (Vec2& p : polygon) p = {p.y, p.x};
  std::ranges::reverse(polygon);
  return polygon;
}

double from_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 way = b - a;
  const double square = dot(way, way);
  const double at = square > 0.0 ? std::clamp(dot(p - a, way) / square, 0.0, 1.0) : 0.0;
  return length(p - (a + way * at));
}

bool cross_each_other(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const double ac = cross(b - a, c - a);
  const double ad = cross(b - a, d - a);
  const double ca = cross(d - c, a - c);
  const double cb = cross(d - c, b - c);
  return ((ac > 0.0) != (ad > 0.0)) && ((ca > 0.0) != (cb > 0.0));
}

bool inside(Vec2 p, const Polygon& polygon) {
  bool in = false;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
    const Vec2 a = polygon[i];
    const Vec2 b = polygon[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
  }
  return in;
}

/// Pushes `b` from the right against `a`, at each of several heights; keeps the least rectangle.
class Pushing {
 public:
  Pushing(const Polygon& a, const Polygon& b, double kerf)
      : a_(a), b_(b), kerf_(kerf), around_a_(bounds_of(a)), around_b_(bounds_of(b)) {}

  /// Area of the rectangle with its saw cut, and where `b` goes.
  struct Found {
    double area = std::numeric_limits<double>::infinity();
    Vec2 shift;
  };

  Found run(Found best) const {
    std::vector<Found> places;  // touching: no place is better than that
    for (const double up : heights()) {
      const Vec2 shift{touching(up), up};
      const double area = area_at(shift);
      if (area < best.area) places.push_back({area, shift});
    }
    std::ranges::sort(places, [](const Found& x, const Found& y) {
      return std::tuple(x.area, x.shift.y) < std::tuple(y.area, y.shift.y);
    });
    for (const Found& place : places) {
      if (place.area >= best.area) break;
      if (!clear({farthest(place, best.area), place.shift.y})) continue;
      const Vec2 shift{apart(place.shift.x, place.shift.y), place.shift.y};
      if (const double area = area_at(shift); area < best.area) best = {area, shift};
    }
    return best;
  }

 private:
  /// Where corners pass corners, a saw cut above and below, and even steps.
  std::vector<double> heights() const {
    const double low = around_a_.lo.y - around_b_.hi.y;
    const double high = around_a_.hi.y - around_b_.lo.y;
    std::vector<double> all;
    for (const Vec2 p : a_) {
      for (const Vec2 q : b_) {
        for (const double more : {0.0, kerf_, -kerf_}) all.push_back(p.y - q.y + more);
      }
    }
    std::erase_if(all, [&](double up) { return up < low || up > high; });
    std::ranges::sort(all);
    all.erase(std::unique(all.begin(), all.end(), [](double x, double y) { return y - x < kContact; }),
              all.end());
    std::vector<double> some;
    const std::size_t every = all.size() / kMostPlaces + 1;
    for (std::size_t i = 0; i < all.size(); i += every) some.push_back(all[i]);
    for (int i = 0; i <= kEvenSteps; ++i) some.push_back(low + (high - low) * i / kEvenSteps);
    return some;
  }

  /// How far the polygon reaches at a height, to the right or, with `way` -1, to the left.
  static std::optional<double> reach(const Polygon& polygon, double y, double way) {
    std::optional<double> most;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vec2 p = polygon[i];
      const Vec2 q = polygon[(i + 1) % polygon.size()];
      if (y < std::min(p.y, q.y) || y > std::max(p.y, q.y)) continue;
      const auto keep = [&](double x) { most = std::max(most.value_or(way * x), way * x); };
      if (p.y == q.y) {
        keep(p.x);
        keep(q.x);
      } else {
        keep(p.x + (q.x - p.x) * (y - p.y) / (q.y - p.y));
      }
    }
    return most;
  }

  /// The least shift to the right at which `b` lies to the right of `a` at every height that both
  /// have; where they have none, both begin at one line.
  double touching(double up) const {
    double right = around_a_.lo.x - around_b_.lo.x;
    const auto at = [&](double y) {
      const auto end = reach(a_, y, 1.0);
      const auto begin = reach(b_, y - up, -1.0);
      if (end && begin) right = std::max(right, *end + *begin);
    };
    for (const Vec2 p : a_) at(p.y);
    for (const Vec2 q : b_) at(q.y + up);
    return right;
  }

  bool clear(Vec2 shift) const { return distance(a_, shifted(b_, shift)) >= kerf_; }

  /// No rectangle below `area` has `b` further to the right.
  double farthest(const Found& place, double area) const {
    const double height = place.area / (width_at(place.shift) + kerf_);
    const double inside_first =
        std::max(0.0, around_a_.hi.x - around_b_.hi.x - place.shift.x);
    return place.shift.x + inside_first + (area - place.area) / height;
  }

  /// The same as touching, with a saw cut between them: distances grow with the shift.
  double apart(double least, double up) const {
    if (clear({least, up})) return least;
    double low = least;
    double high = around_a_.hi.x - around_b_.lo.x + kerf_ + kContact;
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (low + high) / 2;
      (clear({middle, up}) ? high : low) = middle;
    }
    return high;
  }

  double width_at(Vec2 shift) const {
    return std::max(around_a_.hi.x, around_b_.hi.x + shift.x) -
           std::min(around_a_.lo.x, around_b_.lo.x + shift.x);
  }

  double area_at(Vec2 shift) const {
    const Vec2 size{std::max(around_a_.hi.x, around_b_.hi.x + shift.x) -
                        std::min(around_a_.lo.x, around_b_.lo.x + shift.x),
                    std::max(around_a_.hi.y, around_b_.hi.y + shift.y) -
                        std::min(around_a_.lo.y, around_b_.lo.y + shift.y)};
    return (size.x + kerf_) * (size.y + kerf_);
  }

  const Polygon& a_;
  const Polygon& b_;
  double kerf_;
  Bounds around_a_;
  Bounds around_b_;
};

double area_with_cut(const Polygon& polygon, double kerf) {
  const Vec2 size = bounds_of(polygon).size();
  return (size.x + kerf) * (size.y + kerf);
}

}  // namespace

double distance(const Polygon& a, const Polygon& b) {
  if (inside(a.front(), b) || inside(b.front(), a)) return 0.0;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Vec2 p = a[i];
    const Vec2 q = a[(i + 1) % a.size()];
    for (std::size_t j = 0; j < b.size(); ++j) {
      const Vec2 r = b[j];
      const Vec2 s = b[(j + 1) % b.size()];
      if (cross_each_other(p, q, r, s)) return 0.0;
      least = std::min({least, from_segment(p, r, s), from_segment(q, r, s), from_segment(r, p, q),
                        from_segment(s, p, q)});
    }
  }
  return least;
}

std::optional<OutlinePair> pair_outlines(const Polygon& a, const Polygon& b, double kerf) {
  Pushing::Found best{area_with_cut(a, kerf) + area_with_cut(b, kerf), {}};
  const double two = best.area;
  std::optional<OutlinePair> pair;
  for (const bool turned : {true, false}) {
    const Polygon other = turned ? half_turned(b) : b;
    const auto keep = [&](const Pushing::Found& found, const Polygon& second) {
      if (found.area >= best.area - kContact) return;
      best = found;
      Bounds around = bounds_of(a);
      around.add(second);
      const Vec2 to_corner = around.lo * -1.0;
      pair = OutlinePair{around.size().x, around.size().y, shifted(a, to_corner),
                         shifted(second, to_corner), turned};
    };
    // From the right, from above, and the same with the first one pushed: from the left, from below.
    const Pushing::Found right = Pushing(a, other, kerf).run(best);
    keep(right, shifted(other, right.shift));
    const Pushing::Found left = Pushing(other, a, kerf).run(best);
    keep(left, shifted(other, left.shift * -1.0));
    const Polygon a_across = exchanged(a);
    const Polygon other_across = exchanged(other);
    const Pushing::Found above = Pushing(a_across, other_across, kerf).run(best);
    keep(above, shifted(other, {above.shift.y, above.shift.x}));
    const Pushing::Found below = Pushing(other_across, a_across, kerf).run(best);
    keep(below, shifted(other, {-below.shift.y, -below.shift.x}));
  }
  return best.area < two ? pair : std::nullopt;
}

}  // namespace ribbay

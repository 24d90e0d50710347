#include "scan/slice.hpp"

#include "biweight.hpp"
#include "rays.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace ribbay {

using namespace detail;

namespace {

constexpr double kHalfAlong = 60.0;  ///< of a window along the van: wider than a rib, mm
constexpr double kRidge = 25.0;      ///< where the roof's last point is taken, from the centre line
constexpr double kRoofStep = 20.0;   ///< between looks up at the roof
constexpr double kWidest = 1500.0;   ///< half width of the widest room
constexpr double kSteepEnough = 1.1;    ///< slope up to which a wall is read sideways
constexpr double kBentTooFar = 2.5;     ///< slope beyond which one side of the bend spoils the fit
constexpr double kForEachMm = 0.05;     ///< uncertainty gained with distance to what was seen
constexpr std::size_t kFewestCuts = 2;  ///< that show the wall
constexpr double kRising = 1.0;         ///< least step in height from point to point

using Points = std::vector<std::optional<ScannedPoint>>;

/// One side of a section while it is being made: a point for each asked height and one for the
/// ridge; empty ones have not been seen.
struct Side {
  Points points;
  std::vector<bool> above_roof;
};

struct RoofPoint {
  double half_width = 0.0;
  double z = 0.0;
};

class Slicer {
 public:
  Slicer(const ScanMesh& mesh, const SliceRequest& request, double x)
      : request_(request),
        x_(x),
        near_(cuts_around(mesh, x, kHalfAlong)),
        wide_(cuts_around(mesh, x, 2 * kHalfAlong)) {}

  Side side(bool left) const {
    const std::vector<RoofPoint> roof = roof_profile(left);
    const Aim up = left ? Aim::up_left : Aim::up_right;
    Side side;
    for (const double z : request_.heights) {
      const bool above = !roof.empty() && z > roof.front().z - kRising;
      side.above_roof.push_back(above);
      side.points.push_back(above ? std::nullopt : point_at(left, z, roof));
    }
    side.above_roof.push_back(false);
    side.points.push_back(roof_point(up, kRidge));
    return side;
  }

 private:
  std::optional<ScannedPoint> point_at(bool left, double z,
                                       const std::vector<RoofPoint>& roof) const {
    const auto seen = look_twice(left ? Aim::left : Aim::right, z, [&](double half, double dx) {
      return std::ranges::none_of(request_.hidden, [&](const Hidden& hidden) {
        const double x = x_ + dx;
        return hidden.left == left && z - half < hidden.top && z + half > hidden.bottom &&
               x > hidden.from && x < hidden.to;
      });
    });
    if (seen) {
      const auto [flat, steep] = std::minmax({std::abs(seen->below), std::abs(seen->above)});
      if (flat <= kSteepEnough && steep <= kBentTooFar) {
        return ScannedPoint{z, seen->value, seen->spread, true};
      }
    }
    for (std::size_t i = 1; i < roof.size(); ++i) {
      if (roof[i - 1].z < z || roof[i].z >= z) continue;
      const double share = (roof[i - 1].z - z) / (roof[i - 1].z - roof[i].z);
      return roof_point(left ? Aim::up_left : Aim::up_right,
                        std::lerp(roof[i - 1].half_width, roof[i].half_width, share));
    }
    return std::nullopt;
  }

  std::optional<ScannedPoint> roof_point(Aim up, double half_width) const {
    const auto seen = look_twice(up, half_width, [](double, double) { return true; });
    if (!seen) return std::nullopt;
    return ScannedPoint{seen->value, half_width, seen->spread, true};
  }

  /// Looks through the small window, then through one twice as large.
  template <class F>
  std::optional<Seen> look_twice(Aim aim, double at, F visible) const {
    for (const auto* cuts : {&near_, &wide_}) {
      Window window;
      window.at = at;
      if (cuts == &wide_) window.half *= 2;
      for (const Cut& cut : *cuts) {
        // Beyond the ends of the scan there is nothing to persist.
        if (!cut.segments.empty() && visible(window.half, cut.dx)) window.cuts.push_back(&cut);
      }
      if (window.cuts.size() < kFewestCuts) continue;
      if (const auto seen = look(window, aim)) return seen;
    }
    return std::nullopt;
  }

  /// Heights of the roof from the centre line outward, as long as it is flat enough to be seen from
  /// below.
  std::vector<RoofPoint> roof_profile(bool left) const {
    Window window;
    for (const Cut& cut : near_) {
      if (!cut.segments.empty()) window.cuts.push_back(&cut);
    }
    std::vector<RoofPoint> roof;
    for (double at = kRidge; at < kWidest; at += kRoofStep) {
      window.at = at;
      const auto seen = look(window, left ? Aim::up_left : Aim::up_right);
      if (!seen) continue;
      if (std::min(std::abs(seen->below), std::abs(seen->above)) > kSteepEnough) break;
      if (roof.empty()) roof.push_back({at, seen->value});
      const RoofPoint& last = roof.back();
      // What lies far below the roof next to it is no roof.
      if (last.z - seen->value > kBentTooFar * (at - last.half_width)) break;
      if (seen->value < last.z) roof.push_back({at, seen->value});
    }
    return roof;
  }

  const SliceRequest& request_;
  double x_;
  std::vector<Cut> near_;
  std::vector<Cut> wide_;
};

/// Distance from k to the nearest seen point of the side, as its index; nullopt when none is seen.
std::optional<std::size_t> nearest_seen(const Points& points, std::size_t k) {
  for (std::size_t by = 1; by < points.size(); ++by) {
    if (k >= by && points[k - by] && points[k - by]->seen) return k - by;
    if (k + by < points.size() && points[k + by] && points[k + by]->seen) return k + by;
  }
  return std::nullopt;
}

/// How the point `to` lies from the point `from` on another section.
struct Step {
  double dz = 0.0;
  double out = 0.0;
};

/// Fills what was not seen, one side of all sections at a time.
class Filler {
 public:
  Filler(const std::vector<double>& stations, const std::vector<double>& heights,
         std::vector<Side>& sides)
      : stations_(stations), heights_(heights), sides_(sides), seen_(sides) {}

  void fill() {
    for (std::size_t i = 0; i < sides_.size(); ++i) {
      for (std::size_t k = 0; k < sides_[i].points.size(); ++k) {
        if (!sides_[i].points[k] && !sides_[i].above_roof[k]) sides_[i].points[k] = guess(i, k);
      }
    }
  }

 private:
  std::optional<ScannedPoint> guess(std::size_t i, std::size_t k) const {
    const Points& own = seen_[i].points;
    const auto from = nearest_seen(own, k);
    if (!from) return std::nullopt;
    const ScannedPoint& base = *own[*from];
    const auto step = step_of_others(i, *from, k);
    if (step) return widened(base, {base.z + step->dz, base.half_width + step->out, 0.0, false});
    return between(own, k);
  }

  static ScannedPoint widened(const ScannedPoint& base, ScannedPoint point) {
    const double away = std::hypot(point.z - base.z, point.half_width - base.half_width);
    point.uncertainty = base.uncertainty + kForEachMm * away;
    return point;
  }

  /// The step from one point to another on the next sections behind and in front that saw both,
  /// taken in proportion.
  std::optional<Step> step_of_others(std::size_t i, std::size_t from, std::size_t to) const {
    std::optional<std::size_t> behind;
    std::optional<std::size_t> in_front;
    for (std::size_t j = 0; j < seen_.size(); ++j) {
      if (j == i || !seen_[j].points[from] || !seen_[j].points[to]) continue;
      if (j < i) behind = j;
      if (j > i && !in_front) in_front = j;
    }
    if (!behind && !in_front) return std::nullopt;
    const auto step = [&](std::size_t j) {
      const ScannedPoint& a = *seen_[j].points[from];
      const ScannedPoint& b = *seen_[j].points[to];
      return Step{b.z - a.z, b.half_width - a.half_width};
    };
    const Step rear = step(behind.value_or(in_front.value_or(0)));
    const Step front = step(in_front.value_or(behind.value_or(0)));
    const double share = behind && in_front ? (stations_[i] - stations_[*behind]) /
                                                  (stations_[*in_front] - stations_[*behind])
                                            : 0.0;
    return Step{std::lerp(rear.dz, front.dz, share), std::lerp(rear.out, front.out, share)};
  }

  /// Between the nearest seen points below and above, or as the only one of them says.
  std::optional<ScannedPoint> between(const Points& own, std::size_t k) const {
    const ScannedPoint* below = nullptr;
    const ScannedPoint* above = nullptr;
    for (std::size_t j = 0; j < own.size(); ++j) {
      if (!own[j]) continue;
      if (j < k) below = &*own[j];
      if (j > k && above == nullptr) above = &*own[j];
    }
    if (k == heights_.size()) return std::nullopt;  // a ridge that nobody saw is anybody's guess
    const double z = heights_[k];
    if (below != nullptr && above != nullptr && above->z > below->z) {
      const double share = std::clamp((z - below->z) / (above->z - below->z), 0.0, 1.0);
      const ScannedPoint& nearer = share < 0.5 ? *below : *above;
      return widened(nearer,
                     {z, std::lerp(below->half_width, above->half_width, share), 0.0, false});
    }
    const ScannedPoint* only = below != nullptr ? below : above;
    if (only == nullptr) return std::nullopt;
    return widened(*only, {z, only->half_width, 0.0, false});
  }

  const std::vector<double>& stations_;
  const std::vector<double>& heights_;
  std::vector<Side>& sides_;
  const std::vector<Side> seen_;
};

/// The points that are there, rising.
std::vector<ScannedPoint> rising(const Points& points) {
  std::vector<ScannedPoint> kept;
  for (const auto& point : points) {
    if (!point || point->half_width <= 0.0) continue;
    if (kept.empty() || point->z >= kept.back().z + kRising) kept.push_back(*point);
  }
  // The ridge closes the section: what lies above it was noise.
  if (points.back() && !kept.empty() && kept.back() != *points.back()) {
    while (!kept.empty() && kept.back().z > points.back()->z - kRising) kept.pop_back();
    kept.push_back(*points.back());
  }
  return kept;
}

/// In a coarse mesh a fit goes through the few points of its window and hides their noise: no
/// point is more certain than the middle one of them all.
void level_uncertainty(std::vector<Side>& left, std::vector<Side>& right) {
  std::vector<double> spreads;
  const auto each_seen = [&](auto use) {
    for (auto* sides : {&left, &right}) {
      for (Side& side : *sides) {
        for (auto& point : side.points) {
          if (point) use(*point);
        }
      }
    }
  };
  each_seen([&](const ScannedPoint& p) { spreads.push_back(p.uncertainty); });
  const double middle = quantile(spreads, 0.5);
  each_seen([&](ScannedPoint& p) { p.uncertainty = std::max(p.uncertainty, middle); });
}

}  // namespace

std::vector<ScannedSection> slice(const ScanMesh& mesh, const SliceRequest& request) {
  std::vector<Side> left;
  std::vector<Side> right;
  for (const double x : request.stations) {
    const Slicer slicer(mesh, request, x);
    left.push_back(slicer.side(true));
    right.push_back(slicer.side(false));
  }
  level_uncertainty(left, right);
  Filler(request.stations, request.heights, left).fill();
  Filler(request.stations, request.heights, right).fill();
  std::vector<ScannedSection> sections;
  for (std::size_t i = 0; i < request.stations.size(); ++i) {
    ScannedSection section{request.stations[i], rising(left[i].points), rising(right[i].points),
                           false};
    section.blind = section.left.size() < 2 || section.right.size() < 2;
    sections.push_back(std::move(section));
  }
  return sections;
}

}  // namespace ribbay

#include "rays.hpp"

#include "biweight.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr int kCutsEachSide = 6;
constexpr int kRowsEachSide = 5;
constexpr double kPersists = 0.2;    ///< of the rays must meet a surface for it to count
constexpr double kThickness = 20.0;  ///< how far hits of one surface spread before it is fitted, mm
constexpr std::size_t kFewestHits = 12;

struct Hit {
  double out = 0.0;  ///< distance along the ray
  double dx = 0.0;   ///< from the station
  double da = 0.0;   ///< from the middle of the window
  std::size_t ray = 0;
};

/// A point of a cut as the rays see it: out along them, and across.
Vec2 seen_along(Vec2 yz, Aim aim) {
  switch (aim) {
    case Aim::left:
      return yz;
    case Aim::right:
      return {-yz.x, yz.y};
    case Aim::up_left:
      return {yz.y, yz.x};
    case Aim::up_right:
      return {yz.y, -yz.x};
  }
  return yz;
}

struct Bundle {
  std::vector<Hit> hits;
  std::size_t rays = 0;
};

Bundle shoot(const Window& window, Aim aim) {
  std::vector<double> rows;
  const double step = window.half / kRowsEachSide;
  for (int i = -kRowsEachSide; i <= kRowsEachSide; ++i) {
    const double row = window.at + step * i;
    if (row >= window.least) rows.push_back(row);
  }
  // Beside the floor the missing rows are made up for above.
  while (rows.size() < static_cast<std::size_t>(2 * kRowsEachSide + 1)) {
    rows.push_back(rows.empty() ? window.least : rows.back() + step);
  }
  Bundle bundle;
  for (const Cut* cut : window.cuts) {
    for (const auto& [from, to] : cut->segments) {
      const Vec2 p = seen_along(from, aim);
      const Vec2 q = seen_along(to, aim);
      const auto [low, high] = std::minmax(p.y, q.y);
      if (high < rows.front() || low > rows.back()) continue;
      for (std::size_t r = 0; r < rows.size(); ++r) {
        if (rows[r] < low || rows[r] >= high) continue;
        const double out = p.x + (q.x - p.x) * (rows[r] - p.y) / (q.y - p.y);
        if (out > 0.0) {
          bundle.hits.push_back({out, cut->dx, rows[r] - window.at, bundle.rays + r});
        }
      }
    }
    bundle.rays += rows.size();
  }
  return bundle;
}

/// Distance out from which enough rays meet something within kThickness: where the outermost
/// surface begins. The hits come sorted, outermost first.
std::optional<double> outermost(const std::vector<Hit>& hits, std::size_t rays) {
  const auto enough = static_cast<std::size_t>(std::ceil(kPersists * static_cast<double>(rays)));
  std::vector<std::size_t> on_ray(rays, 0);
  std::size_t met = 0;
  std::size_t end = 0;
  for (const Hit& first : hits) {
    for (; end < hits.size() && hits[end].out >= first.out - kThickness; ++end) {
      met += on_ray[hits[end].ray]++ == 0;
    }
    if (met >= enough) return first.out;
    met -= --on_ray[first.ray] == 0;
  }
  return std::nullopt;
}

/// A plane with a bend along the middle of the window: value, slope along x, slopes on both sides.
using Bent = std::array<double, 4>;

Bent row_of(const Hit& hit) {
  return {1.0, hit.dx, std::min(hit.da, 0.0), std::max(hit.da, 0.0)};
}
double residual(const Hit& hit, const Bent& surface) {
  const Bent row = row_of(hit);
  double value = 0.0;
  for (std::size_t i = 0; i < row.size(); ++i) value += row[i] * surface[i];
  return hit.out - value;
}

}  // namespace

std::vector<Cut> cuts_around(const ScanMesh& mesh, double x, double half) {
  std::vector<Cut> cuts;
  for (int i = -kCutsEachSide; i <= kCutsEachSide; ++i) {
    cuts.push_back({half / kCutsEachSide * i, {}});
  }
  const double step = half / kCutsEachSide;
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    const std::array<double, 3> dx{mesh.points[t[0]].x - x, mesh.points[t[1]].x - x,
                                   mesh.points[t[2]].x - x};
    const auto [low, high] = std::minmax({dx[0], dx[1], dx[2]});
    if (high < -half || low > half) continue;
    const auto first = static_cast<int>(std::ceil(std::max(low, -half) / step));
    const auto last = static_cast<int>(std::floor(std::min(high, half) / step));
    for (int i = std::max(first, -kCutsEachSide); i <= std::min(last, kCutsEachSide); ++i) {
      Cut& cut = cuts[static_cast<std::size_t>(i + kCutsEachSide)];
      std::array<Vec2, 2> ends;
      std::size_t found = 0;
      for (std::size_t k = 0; k < 3 && found < 2; ++k) {
        const double a = dx[k] - cut.dx;
        const double b = dx[(k + 1) % 3] - cut.dx;
        if ((a < 0.0) == (b < 0.0)) continue;
        const Vec3& p = mesh.points[t[k]];
        const Vec3& q = mesh.points[t[(k + 1) % 3]];
        const double share = a / (a - b);
        ends[found++] = {p.y + (q.y - p.y) * share, p.z + (q.z - p.z) * share};
      }
      if (found == 2) cut.segments.emplace_back(ends[0], ends[1]);
    }
  }
  return cuts;
}

std::optional<Seen> look(const Window& window, Aim aim) {
  Bundle bundle = shoot(window, aim);
  std::vector<Hit>& hits = bundle.hits;
  if (hits.size() < kFewestHits) return std::nullopt;
  const auto [rear, front] = std::ranges::minmax(hits, {}, &Hit::dx);
  if (rear.dx >= 0.0 || front.dx <= 0.0) {
    // From one side alone a slope would be carried on by what is mostly noise.
    for (Hit& hit : hits) hit.dx = 0.0;
  }
  std::ranges::stable_sort(hits, std::ranges::greater{}, &Hit::out);
  const auto begins = outermost(hits, bundle.rays);
  if (!begins) return std::nullopt;

  LeastSquares<4> start;
  for (const Hit& hit : hits) {
    if (hit.out <= *begins && hit.out >= *begins - kThickness) start.add(row_of(hit), hit.out, 1.0);
  }
  Bent surface = start.solve();
  double reach = kThickness;
  std::vector<double> off;
  for (int round = 0; round < 10; ++round) {
    LeastSquares<4> sums;
    off.clear();
    for (const Hit& hit : hits) {
      const double r = residual(hit, surface);
      if (std::abs(r) >= reach) continue;
      sums.add(row_of(hit), hit.out, biweight(r, reach));
      off.push_back(std::abs(r));
    }
    if (off.size() < kFewestHits) return std::nullopt;
    surface = sums.solve();
    // Half a millimetre: a surface without noise must not lose its own points.
    reach = std::clamp(kBiweightReach * kMadToSigma * quantile(off, 0.5), 0.5, reach);
  }
  std::vector<bool> met(bundle.rays, false);
  off.clear();
  for (const Hit& hit : hits) {
    const double r = std::abs(residual(hit, surface));
    if (r >= reach) continue;
    met[hit.ray] = true;
    off.push_back(r);
  }
  const auto rays = static_cast<double>(std::ranges::count(met, true));
  if (rays < kPersists * static_cast<double>(bundle.rays)) return std::nullopt;
  return Seen{surface[0], surface[2], surface[3], quantile(off, 0.95)};
}

}  // namespace ribbay::detail

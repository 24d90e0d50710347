#pragma once

#include "base/frame.hpp"
#include "scan/mesh.hpp"
#include "vehicle/vehicle.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

/// Scans of known vans, with the faults that scans have.
namespace ribbay::tests {

/// Random numbers that are the same with every standard library.
class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}
  double uniform(double lo, double hi) {
    return lo + (hi - lo) * (static_cast<double>(random_()) + 0.5) / 4294967296.0;
  }
  /// Normal, by the transform of Box and Muller.
  double normal(double sigma) {
    const double radius = std::sqrt(-2.0 * std::log(uniform(0, 1)));
    return sigma * radius * std::cos(2.0 * std::numbers::pi * uniform(0, 1));
  }
  Vec3 direction() {
    const Vec3 v{normal(1), normal(1), normal(1)};
    return normalized(v);
  }
  /// Any way round, somewhere within 5 m.
  Frame motion() {
    const Vec3 z = direction();
    const Vec3 x = normalized(cross(direction(), z));
    return frame_zx({uniform(-5000, 5000), uniform(-5000, 5000), uniform(-5000, 5000)}, z, x);
  }

 private:
  std::mt19937 random_;
};

struct ScanFaults {
  double noise = 1.0;  ///< standard deviation of each coordinate, mm
  int holes = 6;       ///< in walls and roof, of 60 to 140 mm radius
  int strays = 8;      ///< specks of 20 to 60 mm floating in and around the room
};

namespace made {

inline double sign(VanSide side) {
  return side == VanSide::left ? 1.0 : -1.0;
}

/// Height of a wheel arch with its rounded ends at x.
inline double arch_top(const WheelArch& arch, double x) {
  const double into = std::max({0.0, arch.from + arch.radius - x, x - (arch.to - arch.radius)});
  return arch.height - arch.radius + std::sqrt(arch.radius * arch.radius - into * into);
}

/// What a scanner sees of the wall: ribs and arches hide the skin behind them.
inline double visible_half_width(const Vehicle& vehicle, VanSide side, double x, double z) {
  const auto y = wall_y(vehicle, side, x, z);
  double out = std::abs(y.value_or(0.0));
  double depth = 0.0;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side == side && std::abs(x - rib.x) < rib.width / 2 && z > rib.from && z < rib.to) {
      depth = std::max(depth, rib.depth);
    }
  }
  out -= depth;
  for (const WheelArch& arch : vehicle.arches) {
    if (arch.side == side && x > arch.from && x < arch.to && z < arch_top(arch, x)) {
      out = std::min(out, arch.half_width);
    }
  }
  return out;
}

/// Values from `from` to `to` about `step` apart; each edge stands twice, a hair apart, so that
/// what juts out there has upright sides.
inline std::vector<double> lines(double from, double to, double step, std::vector<double> edges) {
  constexpr double kHair = 1e-4;
  std::vector<double> at{from, to};
  const auto count = static_cast<int>(std::ceil((to - from) / step));
  for (int i = 1; i < count; ++i) at.push_back(from + (to - from) * i / count);
  std::erase_if(at, [&](double v) {
    return std::ranges::any_of(edges, [&](double e) { return std::abs(v - e) < step / 4; });
  });
  for (const double e : edges) {
    if (e - kHair <= from || e + kHair >= to) continue;
    at.push_back(e - kHair);
    at.push_back(e + kHair);
  }
  std::ranges::sort(at);
  at.erase(std::unique(at.begin(), at.end()), at.end());
  return at;
}

/// Adds a surface over a grid of rows and columns; faces look into the room when `turned` says so.
template <class F>
void add_grid(ScanMesh& mesh, std::size_t rows, std::size_t columns, bool turned, F point) {
  const auto first = static_cast<std::uint32_t>(mesh.points.size());
  for (std::size_t r = 0; r < rows; ++r) {
    for (std::size_t c = 0; c < columns; ++c) mesh.points.push_back(point(r, c));
  }
  for (std::size_t r = 0; r + 1 < rows; ++r) {
    for (std::size_t c = 0; c + 1 < columns; ++c) {
      const auto a = static_cast<std::uint32_t>(first + r * columns + c);
      const auto below = static_cast<std::uint32_t>(a + columns);
      ScanMesh::Triangle one{a, a + 1, below + 1};
      ScanMesh::Triangle two{a, below + 1, below};
      if (turned) {
        std::swap(one[1], one[2]);
        std::swap(two[1], two[2]);
      }
      mesh.triangles.push_back(one);
      mesh.triangles.push_back(two);
    }
  }
}

/// Heights at which a wall is sampled: `step` apart along the section of its first station, rib
/// ends twice.
inline std::vector<double> wall_rows(const Vehicle& vehicle, VanSide side, double step) {
  const Station& station = vehicle.stations.front();
  const auto& points = side == VanSide::left ? station.left : station.right;
  std::vector<double> edges;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side != side) continue;
    for (const double e : {rib.from, rib.to}) {
      if (std::ranges::find(edges, e) == edges.end()) edges.push_back(e);
    }
  }
  for (const WheelArch& arch : vehicle.arches) {
    if (arch.side == side) edges.push_back(arch.height);
  }
  std::vector<double> rows;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double run =
        std::hypot(points[i + 1].z - points[i].z, points[i + 1].half_width - points[i].half_width);
    std::vector<double> here;
    for (const double e : edges) {
      if (e > points[i].z && e < points[i + 1].z) here.push_back(e);
    }
    const double rise = (points[i + 1].z - points[i].z) / run;
    const auto part = lines(points[i].z, points[i + 1].z, step * rise, here);
    rows.insert(rows.end(), part.begin(), part.end());
  }
  rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
  return rows;
}

inline std::vector<double> wall_columns(const Vehicle& vehicle, VanSide side, double step) {
  std::vector<double> edges;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side != side) continue;
    edges.push_back(rib.x - rib.width / 2);
    edges.push_back(rib.x + rib.width / 2);
  }
  for (const WheelArch& arch : vehicle.arches) {
    if (arch.side != side) continue;
    edges.push_back(arch.from);
    edges.push_back(arch.to);
  }
  return lines(vehicle.x_min(), vehicle.x_max(), step, edges);
}

inline void add_walls(ScanMesh& mesh, const Vehicle& vehicle, double step) {
  for (const VanSide side : {VanSide::left, VanSide::right}) {
    const auto rows = wall_rows(vehicle, side, step);
    const auto columns = wall_columns(vehicle, side, step);
    add_grid(mesh, rows.size(), columns.size(), side == VanSide::right,
             [&](std::size_t r, std::size_t c) {
               const double out = visible_half_width(vehicle, side, columns[c], rows[r]);
               return Vec3{columns[c], sign(side) * out, rows[r]};
             });
  }
}

/// Floor, the strip of roof between the walls' tops, and a bulkhead in front.
inline void add_floor_roof_bulkhead(ScanMesh& mesh, const Vehicle& vehicle, double step) {
  const auto columns = lines(vehicle.x_min(), vehicle.x_max(), step, {});
  const auto count = [&](double width) {
    return static_cast<std::size_t>(std::max(2.0, std::ceil(width / step) + 1));
  };
  const auto across = [](std::size_t i, std::size_t n, double right, double left) {
    return std::lerp(right, left, static_cast<double>(i) / static_cast<double>(n - 1));
  };
  const auto out = [&](VanSide side, double x, double z) {
    return sign(side) * visible_half_width(vehicle, side, x, z);
  };
  const std::size_t floor = count(1700);
  add_grid(mesh, floor, columns.size(), true, [&](std::size_t r, std::size_t c) {
    const double x = columns[c];
    return Vec3{x, across(r, floor, out(VanSide::right, x, 0), out(VanSide::left, x, 0)), 0.0};
  });
  const double top = vehicle.stations.front().left.back().z;
  add_grid(mesh, 3, columns.size(), false, [&](std::size_t r, std::size_t c) {
    const double x = columns[c];
    return Vec3{x, across(r, 3, out(VanSide::right, x, top), out(VanSide::left, x, top)), top};
  });
  const auto rows = wall_rows(vehicle, VanSide::left, step);
  const double x = vehicle.x_max();
  add_grid(mesh, rows.size(), floor, true, [&](std::size_t r, std::size_t c) {
    const double z = rows[r];
    return Vec3{x, across(c, floor, out(VanSide::right, x, z), out(VanSide::left, x, z)), z};
  });
}

inline void add_stray(ScanMesh& mesh, Vec3 at, double size) {
  const auto i = static_cast<std::uint32_t>(mesh.points.size());
  for (const Vec3 corner : {Vec3{0, 0, 0}, Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}}) {
    mesh.points.push_back(at + corner * size);
  }
  mesh.triangles.insert(mesh.triangles.end(),
                        {{i, i + 2, i + 1}, {i, i + 1, i + 3}, {i, i + 3, i + 2}});
}

}  // namespace made

/// The room of `vehicle` as a clean mesh in van axes, triangles about `step` long. All its stations
/// must have the same heights.
inline ScanMesh clean_scan_of(const Vehicle& vehicle, double step) {
  ScanMesh mesh;
  made::add_walls(mesh, vehicle, step);
  made::add_floor_roof_bulkhead(mesh, vehicle, step);
  return mesh;
}

/// The same with noise, holes and strays, in the axes of `scanner`.
inline ScanMesh scan_of(const Vehicle& vehicle, double step, const ScanFaults& faults,
                        const Frame& scanner, Chance& chance) {
  ScanMesh mesh = clean_scan_of(vehicle, step);
  for (int i = 0; i < faults.holes; ++i) {
    const auto pick =
        static_cast<std::size_t>(chance.uniform(0, 1) * static_cast<double>(mesh.triangles.size()));
    const Vec3 at = mesh.points[mesh.triangles[pick][0]];
    const double radius = chance.uniform(60, 140);
    std::erase_if(mesh.triangles, [&](const ScanMesh::Triangle& t) {
      return length(mesh.points[t[0]] - at) < radius;
    });
  }
  for (Vec3& p : mesh.points) {
    p = p +
        Vec3{chance.normal(faults.noise), chance.normal(faults.noise), chance.normal(faults.noise)};
  }
  for (int i = 0; i < faults.strays; ++i) {
    made::add_stray(
        mesh, {chance.uniform(0, 3500), chance.uniform(-1200, 1200), chance.uniform(-300, 1900)},
        chance.uniform(20, 60));
  }
  for (Vec3& p : mesh.points) p = scanner.point(p);
  return mesh;
}

}  // namespace ribbay::tests

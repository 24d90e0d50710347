#pragma once

#include "scenes.hpp"
#include "vehicle/vehicle_scan.hpp"

#include <cmath>
#include <cstdint>
#include <memory>
#include <utility>

/// A scan of the plain van, made by rule.
namespace ribbay::scenes {

/// Adds a grid of 25 mm over two axes; `out` gives the height over it.
template <class F>
void add_surface(ScanMesh& mesh, double from_u, double to_u, double from_v, double to_v, F point) {
  constexpr double kStep = 25.0;
  const auto columns = static_cast<std::uint32_t>((to_u - from_u) / kStep) + 1;
  const auto rows = static_cast<std::uint32_t>((to_v - from_v) / kStep) + 1;
  const auto first = static_cast<std::uint32_t>(mesh.points.size());
  for (std::uint32_t r = 0; r < rows; ++r) {
    for (std::uint32_t c = 0; c < columns; ++c) {
      mesh.points.push_back(point(from_u + kStep * c, from_v + kStep * r));
    }
  }
  for (std::uint32_t r = 0; r + 1 < rows; ++r) {
    for (std::uint32_t c = 0; c + 1 < columns; ++c) {
      const std::uint32_t a = first + r * columns + c;
      mesh.triangles.push_back({a, a + 1, a + columns + 1});
      mesh.triangles.push_back({a, a + columns + 1, a + columns});
    }
  }
}

/// The plain van as scanned: right wall and floor, with a dent of `bulge` mm into the room around
/// x = 1500, z = 500, and a wave of `noise` mm all over.
inline std::shared_ptr<const Vehicle> scanned_van(double bulge, double noise, double uncertainty) {
  Vehicle van = *plain_van();
  VehicleScan scan;
  scan.uncertainty = uncertainty;
  int k = 0;
  const auto wave = [&] { return noise * std::sin(2.4 * ++k); };
  add_surface(scan.mesh, 0, 4000, 0, 1900, [&](double x, double z) {
    const bool dent = std::abs(x - 1500) < 60 && std::abs(z - 500) < 60;
    return Vec3{x, -900 + (dent ? bulge : 0.0) + wave(), z};
  });
  add_surface(scan.mesh, 0, 4000, -900, 900, [&](double x, double y) {
    return Vec3{x, y, wave()};
  });
  van.scan = std::make_shared<const VehicleScan>(std::move(scan));
  return std::make_shared<const Vehicle>(std::move(van));
}

}  // namespace ribbay::scenes

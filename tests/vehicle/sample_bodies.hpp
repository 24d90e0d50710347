#pragma once

#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

/// Points inside and outside the bodies of a vehicle.
namespace ribbay::tests {

/// How far outside a convex piece the point lies, at most: the largest height above a face;
/// negative inside.
inline double outside(const ConvexPiece& piece, Vec3 p) {
  double most = -1e9;
  for (const auto& face : piece.faces) {
    const auto at = [&](std::size_t i) {
      return piece.vertices[static_cast<std::size_t>(face[i])];
    };
    Vec3 normal;
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      normal = normal + cross(at(i) - at(0), at(i + 1) - at(0));
    }
    most = std::max(most, dot(normalized(normal), p - at(0)));
  }
  return most;
}

inline double outside(const Pieces& pieces, Vec3 p) {
  double least = 1e9;
  for (const ConvexPiece& piece : pieces) least = std::min(least, outside(piece, p));
  return least;
}

inline const VehicleBody& body(const std::vector<VehicleBody>& bodies, const std::string& id) {
  const auto found = std::ranges::find(bodies, id, &VehicleBody::id);
  REQUIRE(found != bodies.end());
  return *found;
}

}  // namespace ribbay::tests

#pragma once

#include "layout/layout.hpp"
#include "shape/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <random>
#include <set>
#include <string>
#include <vector>

/// Pieces and layouts that the clearance tests are about. Pieces are built here from their corners
/// alone, so that the engine is tested apart from the code that divides shapes.
namespace ribbay::scenes {

/// The hull of a few points: every plane through three of them that has no point beyond it is a
/// face.
inline ConvexPiece hull(const std::vector<Vec3>& points) {
  constexpr double flat = 1e-9;  // mm
  ConvexPiece piece;
  piece.vertices = points;
  const int n = static_cast<int>(points.size());
  const auto at = [&](int i) { return points[static_cast<std::size_t>(i)]; };
  std::set<std::vector<int>> known;
  const auto add_direction = [](std::vector<Vec3>& directions, Vec3 d) {
    for (const Vec3& other : directions) {
      if (length(cross(other, d)) < 1e-9) return;
    }
    directions.push_back(d);
  };
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      for (int k = 0; k < n; ++k) {
        if (i == j || j == k || i == k) continue;
        const Vec3 full = cross(at(j) - at(i), at(k) - at(i));
        if (length(full) < flat) continue;
        const Vec3 normal = normalized(full);
        std::vector<int> corners;
        bool outermost = true;
        for (int m = 0; m < n; ++m) {
          const double height = dot(normal, at(m) - at(i));
          outermost = outermost && height <= flat;
          if (std::abs(height) <= flat) corners.push_back(m);
        }
        if (!outermost || !known.insert(corners).second) continue;
        Vec3 middle;
        for (const int m : corners) middle = middle + at(m);
        middle = middle * (1.0 / static_cast<double>(corners.size()));
        const Vec3 u = normalized(at(j) - at(i));
        const Vec3 v = cross(normal, u);
        std::ranges::sort(corners, {}, [&](int m) {
          return std::atan2(dot(at(m) - middle, v), dot(at(m) - middle, u));
        });
        add_direction(piece.normals, normal);
        for (std::size_t m = 0; m < corners.size(); ++m) {
          add_direction(piece.edges,
                        normalized(at(corners[(m + 1) % corners.size()]) - at(corners[m])));
        }
        piece.faces.push_back(corners);
      }
    }
  }
  for (const Vec3& p : points) piece.box.add(p);
  return piece;
}

inline ConvexPiece block(Vec3 lo, Vec3 hi, const Frame& frame = {}) {
  std::vector<Vec3> corners;
  for (const double z : {lo.z, hi.z}) {
    for (const double y : {lo.y, hi.y}) {
      for (const double x : {lo.x, hi.x}) corners.push_back(frame.point({x, y, z}));
    }
  }
  return hull(corners);
}

/// A frame turned about an axis through the origin.
inline Frame turned_frame(Vec3 axis, double angle, Vec3 origin = {}) {
  const Vec3 u = normalized(axis);
  const auto image = [&](Vec3 v) {
    const Vec3 along = u * dot(u, v);
    return along + (v - along) * std::cos(angle) + cross(u, v) * std::sin(angle);
  };
  return {origin, image({1, 0, 0}), image({0, 1, 0}), image({0, 0, 1})};
}

/// Reproducible numbers. The coordinates it makes are multiples of 1/1024 mm: their sums and
/// differences are exact in doubles, so that exact arithmetic sees the very same points.
struct Dice {
  std::mt19937 engine;
  explicit Dice(unsigned seed) : engine(seed) {}
  double real(double lo, double hi) {
    return lo + (hi - lo) * (static_cast<double>(engine()) / 4294967296.0);
  }
  int whole(int lo, int hi) {
    return lo + static_cast<int>(engine() % static_cast<unsigned>(hi - lo + 1));
  }
  double coordinate(double size) { return std::round(real(-size, size) * 1024.0) / 1024.0; }
  Vec3 point(double size) { return {coordinate(size), coordinate(size), coordinate(size)}; }
  Vec3 direction() {
    for (;;) {
      const Vec3 v{real(-1, 1), real(-1, 1), real(-1, 1)};
      if (length(v) > 0.1 && length(v) < 1.0) return normalized(v);
    }
  }
};

/// A tilted block, or the hull of a few points; within some 26 mm of the origin.
inline ConvexPiece random_piece(Dice& dice) {
  if (dice.whole(0, 2) == 0) {
    const Vec3 half{dice.real(0.05, 15), dice.real(1, 15), dice.real(1, 15)};
    return block(-half, half, turned_frame(dice.direction(), dice.real(0, 3)));
  }
  std::vector<Vec3> points;
  for (int k = dice.whole(4, 7); k > 0; --k) points.push_back(dice.point(15));
  return hull(points);
}

inline Vec3 on_grid(Vec3 v) {
  const auto snap = [](double x) { return std::round(x * 1024.0) / 1024.0; };
  return {snap(v.x), snap(v.y), snap(v.z)};
}

inline Part part(std::string id, Shape shape, const Frame& frame = {}) {
  Part result;
  result.module = id.substr(0, id.find('/'));
  result.id = std::move(id);
  result.shape = std::make_shared<const Shape>(std::move(shape));
  result.frame = frame;
  return result;
}

inline Part box_part(std::string id, Vec3 lo, Vec3 hi) {
  return part(std::move(id), box_shape(lo, hi));
}

inline Layout layout_of(std::vector<Part> parts) {
  Layout layout;
  layout.parts = std::move(parts);
  std::ranges::sort(layout.parts, {}, &Part::id);
  return layout;
}

/// A straight van: 4 m long, 1.8 m wide, 1.9 m high inside.
inline std::shared_ptr<const Vehicle> plain_van() {
  Vehicle van;
  for (const double x : {0.0, 2000.0, 4000.0}) {
    Station station;
    station.x = x;
    station.left = {{0.0, 900.0}, {1000.0, 900.0}, {1900.0, 900.0}};
    station.right = station.left;
    van.stations.push_back(station);
  }
  van.floor_thickness = 12.0;
  return std::make_shared<const Vehicle>(van);
}

}  // namespace ribbay::scenes

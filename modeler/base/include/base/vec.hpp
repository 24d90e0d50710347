#pragma once

#include <cmath>

namespace ribbay {

/// A point or direction in a plane. Millimetres when it is a point.
struct Vec2 {
  double x = 0.0;
  double y = 0.0;
  friend constexpr bool operator==(const Vec2&, const Vec2&) = default;
};

constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
constexpr Vec2 operator*(Vec2 a, double k) { return {a.x * k, a.y * k}; }
constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
/// Twice the signed area of the triangle (0, a, b); positive when b lies counter-clockwise of a.
constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
inline double length(Vec2 a) { return std::hypot(a.x, a.y); }
/// Precondition: `a` is not the zero vector.
inline Vec2 normalized(Vec2 a) { return a * (1.0 / length(a)); }
/// `a` turned by a quarter turn counter-clockwise.
constexpr Vec2 perpendicular(Vec2 a) { return {-a.y, a.x}; }

/// A point or direction in space. Millimetres when it is a point.
struct Vec3 {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
  friend constexpr bool operator==(const Vec3&, const Vec3&) = default;
  constexpr double operator[](int axis) const { return axis == 0 ? x : axis == 1 ? y : z; }
  constexpr double& operator[](int axis) { return axis == 0 ? x : axis == 1 ? y : z; }
};

constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
constexpr Vec3 operator*(Vec3 a, double k) { return {a.x * k, a.y * k, a.z * k}; }
constexpr double dot(Vec3 a, Vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a) { return std::sqrt(dot(a, a)); }
/// Precondition: `a` is not the zero vector.
inline Vec3 normalized(Vec3 a) { return a * (1.0 / length(a)); }

}  // namespace ribbay

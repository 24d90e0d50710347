#pragma once

#include "shape/facets.hpp"

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

/// Solids for the tests of drawings, with facets made here by hand: no code is shared with the
/// program.
namespace scenes {

using namespace ribbay;

/// A prism over a convex counter-clockwise polygon, placed. `round` marks the polygon as the chords
/// of a circle with that radius about the origin.
struct Solid {
  std::vector<Vec2> polygon;
  double height = 0.0;
  Frame frame;
  double round = 0.0;
};

inline Facets facets_of(const Solid& solid) {
  Facets out;
  const auto n = solid.polygon.size();
  std::vector<Vec3> low;
  std::vector<Vec3> high;
  for (const Vec2 p : solid.polygon) {
    low.push_back(solid.frame.point({p.x, p.y, 0}));
    high.push_back(solid.frame.point({p.x, p.y, solid.height}));
  }
  const int curve = solid.round > 0.0 ? 0 : -1;
  if (solid.round > 0.0) {
    out.curves.push_back({solid.frame.origin, solid.frame.z, solid.round});
    out.curves.push_back({solid.frame.point({0, 0, solid.height}), solid.frame.z, solid.round});
  }
  std::vector<Vec3> normal;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 d = normalized(solid.polygon[(i + 1) % n] - solid.polygon[i]);
    normal.push_back(solid.frame.direction({d.y, -d.x, 0}));
  }
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t j = (i + 1) % n;
    out.faces.push_back({{{low[i], low[j], high[j], high[i]}}, normal[i]});
    out.edges.push_back({low[i], low[j], normal[i], -solid.frame.z, false, curve});
    out.edges.push_back({high[i], high[j], normal[i], solid.frame.z, false, curve < 0 ? -1 : 1});
    out.edges.push_back({low[j], high[j], normal[i], normal[j], solid.round > 0.0, -1});
  }
  out.faces.push_back({{{low.rbegin(), low.rend()}}, -solid.frame.z});
  out.faces.push_back({{high}, solid.frame.z});
  return out;
}

inline Solid box(Vec3 lo, Vec3 hi) {
  const Vec3 s = hi - lo;
  return {{{0, 0}, {s.x, 0}, {s.x, s.y}, {0, s.y}}, s.z, {lo}};
}

inline Solid cylinder(Vec3 base, double radius, double height, int chords) {
  Solid solid{{}, height, {base}, radius};
  for (int i = 0; i < chords; ++i) {
    const double t = 2.0 * std::numbers::pi * i / chords;
    solid.polygon.push_back({radius * std::cos(t), radius * std::sin(t)});
  }
  return solid;
}

/// The largest stretch of the ray p + s * d, s >= 0, that lies inside the solid; from > to when it
/// misses.
struct Pierced {
  double from = 0.0;
  double to = -1.0;
};

inline Pierced pierced(const Solid& solid, Vec3 p, Vec3 d) {
  const Vec3 at = solid.frame.local_point(p);
  const Vec3 by = solid.frame.local_direction(d);
  Pierced in{0.0, 1e9};
  const auto below = [&](double value, double slope) {  // keeps value + slope * s <= 0
    if (std::abs(slope) < 1e-14) {
      if (value > 0.0) in = {0.0, -1.0};
    } else if (slope > 0.0) {
      in.to = std::min(in.to, -value / slope);
    } else {
      in.from = std::max(in.from, -value / slope);
    }
  };
  below(-at.z, -by.z);
  below(at.z - solid.height, by.z);
  for (std::size_t i = 0; i < solid.polygon.size(); ++i) {
    const Vec2 a = solid.polygon[i];
    const Vec2 e = normalized(solid.polygon[(i + 1) % solid.polygon.size()] - a);
    const Vec2 outward{e.y, -e.x};
    below(dot(outward, Vec2{at.x, at.y} - a), dot(outward, Vec2{by.x, by.y}));
  }
  return in;
}

/// Random numbers that are the same on every machine.
class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  double between(double lo, double hi) {
    return lo + (hi - lo) * static_cast<double>(engine_() % 1000003) / 1000002.0;
  }
  int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }
  Vec3 direction() {
    for (;;) {
      const Vec3 v{between(-1, 1), between(-1, 1), between(-1, 1)};
      if (length(v) > 0.1 && length(v) <= 1.0) return normalized(v);
    }
  }
  Frame frame(Vec3 origin) {
    const Vec3 z = direction();
    for (;;) {
      const Vec3 x = direction();
      const Vec3 across = x - z * dot(x, z);
      if (length(across) > 0.2) return frame_zx(origin, z, normalized(across));
    }
  }

 private:
  std::mt19937 engine_;
};

}  // namespace scenes

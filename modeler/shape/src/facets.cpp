#include "shape/facets.hpp"

#include "arrangement.hpp"
#include "base/tolerance.hpp"
#include "boundary.hpp"
#include "mesh_facets.hpp"
#include "polygon.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {
namespace {

bool along_z(const Bore& bore) {
  return std::abs(bore.direction.z) > 1.0 - 1e-9;
}

/// How wide the part of the cut is that lies over the section.
double width_over(const Cut& cut, const Region& section) {
  const detail::Rect a = detail::bounds(sides(cut.outline));
  const detail::Rect b = detail::bounds(sides(section.outer));
  return std::min(std::min(a.hi.x, b.hi.x) - std::max(a.lo.x, b.lo.x),
                  std::min(a.hi.y, b.hi.y) - std::max(a.lo.y, b.lo.y));
}

/// The cuts that a drawing shows, bores along z among them.
std::vector<Cut> shown_cuts(const Prism& prism, const Region& section,
                            const FacetOptions& options) {
  std::vector<Cut> cuts;
  for (const Cut& cut : prism.cuts)
    if (width_over(cut, section) >= options.smallest) cuts.push_back(cut);
  if (!options.bores) return cuts;
  for (const Bore& bore : prism.bores) {
    if (!along_z(bore) || bore.diameter < options.smallest) continue;
    const double end = bore.at.z + (bore.direction.z > 0.0 ? bore.depth : -bore.depth);
    Cut hole{circle({bore.at.x, bore.at.y}, bore.diameter), std::min(bore.at.z, end),
             std::max(bore.at.z, end)};
    if (bore.through) {
      hole.from = -1.0;
      hole.to = prism.height + 1.0;
    }
    cuts.push_back(std::move(hole));
  }
  return cuts;
}

/// Whether `p`, a point of the face's plane, lies in the face or on its rim.
bool lies_in(const FacetFace& face, Vec3 p) {
  const Vec3 u = normalized(face.loops[0][1] - face.loops[0][0]);
  const Vec3 v = cross(face.normal, u);
  const auto flat = [&](Vec3 q) { return Vec2{dot(q - p, u), dot(q - p, v)}; };
  bool in = false;
  for (const std::vector<Vec3>& loop : face.loops)
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = flat(loop[i]);
      const Vec2 b = flat(loop[(i + 1) % loop.size()]);
      const Vec2 d = b - a;
      const double t = std::clamp(-dot(a, d) / dot(d, d), 0.0, 1.0);
      if (length(a + d * t) <= kSame) return true;
      if ((a.y <= 0.0) != (b.y <= 0.0) && (cross(a, b) > 0.0) == (b.y > a.y)) in = !in;
    }
  return in;
}

/// A circle of edges on the face, with the face on both sides.
void add_circle(Facets& facets, Vec3 centre, Vec3 normal, double radius, double chord) {
  const int curve = static_cast<int>(facets.curves.size());
  facets.curves.push_back({centre, normal, radius});
  const Vec3 aside = std::abs(normal.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  const Vec3 u = normalized(cross(aside, normal));
  const Vec3 v = cross(normal, u);
  const int n = std::max(8, detail::chords_for(radius, 2.0 * std::numbers::pi, chord));
  const auto at = [&](int i) {
    const double angle = 2.0 * std::numbers::pi * (i % n) / n;
    return centre + u * (radius * std::cos(angle)) + v * (radius * std::sin(angle));
  };
  for (int i = 0; i < n; ++i)
    facets.edges.push_back({at(i), at(i + 1), normal, normal, false, curve});
}

/// A bore across the prism is drawn as a circle on every face that its axis passes through.
void add_cross_bore(Facets& facets, const Bore& bore, double chord) {
  std::vector<std::pair<double, bool>> drawn;  // depth, entering
  const std::size_t count = facets.faces.size();
  for (std::size_t i = 0; i < count; ++i) {
    const FacetFace& face = facets.faces[i];
    const double slope = dot(face.normal, bore.direction);
    if (std::abs(slope) < 0.05) continue;  // grazes it
    const double depth = dot(face.normal, face.loops[0][0] - bore.at) / slope;
    if (depth < -kContact || depth > bore.depth + kContact) continue;
    const Vec3 centre = bore.at + bore.direction * depth;
    if (!lies_in(face, centre)) continue;
    // Where the axis meets the seam of two chords, one circle is enough.
    const bool entering = slope < 0.0;
    if (std::ranges::any_of(drawn, [&](const auto& known) {
          return known.second == entering && std::abs(known.first - depth) < kContact;
        }))
      continue;
    drawn.emplace_back(depth, entering);
    add_circle(facets, centre, face.normal, bore.diameter / 2.0, chord);
  }
}

Facets prism_facets(const Prism& prism, const FacetOptions& options) {
  const Region& section = options.coarse && prism.coarse ? *prism.coarse : prism.section;
  Facets facets = detail::boundary_of(
      detail::plan_of(section, prism.height, shown_cuts(prism, section, options)), options.chord);
  if (options.bores)
    for (const Bore& bore : prism.bores)
      if (!along_z(bore) && bore.diameter >= options.smallest)
        add_cross_bore(facets, bore, options.chord);
  return facets;
}

void append(Facets& all, Facets more) {
  const int offset = static_cast<int>(all.curves.size());
  for (FacetEdge& edge : more.edges)
    if (edge.curve >= 0) edge.curve += offset;
  std::ranges::move(more.faces, std::back_inserter(all.faces));
  std::ranges::move(more.edges, std::back_inserter(all.edges));
  std::ranges::move(more.curves, std::back_inserter(all.curves));
}

}  // namespace

Facets facets(const Shape& shape, const FacetOptions& options) {
  Facets all;
  for (const PlacedPrism& one : shape.prisms)
    append(all, placed(prism_facets(one.prism, options), one.frame));
  if (shape.mesh) append(all, detail::mesh_facets(*shape.mesh));
  return all;
}

Facets placed(const Facets& facets, const Frame& frame) {
  Facets moved = facets;
  for (FacetFace& face : moved.faces) {
    face.normal = frame.direction(face.normal);
    for (std::vector<Vec3>& loop : face.loops)
      for (Vec3& p : loop) p = frame.point(p);
  }
  for (FacetEdge& edge : moved.edges) {
    edge.a = frame.point(edge.a);
    edge.b = frame.point(edge.b);
    edge.n1 = frame.direction(edge.n1);
    edge.n2 = frame.direction(edge.n2);
  }
  for (FacetCurve& curve : moved.curves) {
    curve.centre = frame.point(curve.centre);
    curve.axis = frame.direction(curve.axis);
  }
  return moved;
}

}  // namespace ribbay

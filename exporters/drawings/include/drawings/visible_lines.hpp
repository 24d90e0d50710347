#pragma once

#include "base/vec.hpp"
#include "shape/facets.hpp"

#include <vector>

namespace ribbay {

/// How a scene is looked at, in parallel projection: `right` and `up` are orthogonal unit vectors
/// that span the picture, and the eye is far away in the direction right x up.
struct ViewFrame {
  Vec3 right{1, 0, 0};
  Vec3 up{0, 0, 1};

  constexpr Vec3 towards_eye() const { return cross(right, up); }
  constexpr Vec2 picture(Vec3 p) const { return {dot(p, right), dot(p, up)}; }
};

/// A stretch of one edge that is seen, or not, along its whole length. `from` and `to` count along
/// the edge, 0 at its point a and 1 at its point b.
struct EdgeSpan {
  int body = 0;
  int edge = 0;
  double from = 0.0;
  double to = 1.0;
  bool visible = true;
};

/// Cuts every edge of `bodies` into spans by what stands in front of it. Bodies may touch; where
/// they overlap, the line in which their faces meet is not drawn. Edges that end on (seen as a
/// point), and seams between chords that are no outline, give no span. With `hidden` false only
/// visible spans are returned.
///
/// Each edge is clipped against the faces turned to the eye that lie in front of it, displaced in
/// thought to its left and to its right: it is hidden only where both are hidden, so outlines stay.
/// Order: body, edge, then along the edge. Cost grows near linearly with the number of edges.
std::vector<EdgeSpan> visible_spans(const std::vector<Facets>& bodies, const ViewFrame& view,
                                    bool hidden = false);

struct DrawnLine {
  Vec2 a;
  Vec2 b;
  bool visible = true;
  int body = 0;
};

/// Part of a circle seen from somewhere: the points centre + u cos t + v sin t, from <= t <= to
/// (radians, at most a full turn).
struct DrawnArc {
  Vec2 centre;
  Vec2 u;
  Vec2 v;
  double from = 0.0;
  double to = 0.0;
  bool visible = true;
  int body = 0;

  Vec2 point(double t) const { return centre + u * std::cos(t) + v * std::sin(t); }
};

/// A picture in the plane of its view, in mm of the scene.
struct Drawn {
  std::vector<DrawnLine> lines;
  std::vector<DrawnArc> arcs;
};

struct DrawnOptions {
  bool hidden = false;    ///< hidden lines too
  double shortest = 0.0;  ///< lines and arcs shorter than this are left out, mm
};

/// The picture of `bodies`: visible_spans() with chords put back into arcs, pieces of one straight
/// line joined, and nothing drawn twice: a visible line wins over a hidden one on the same spot,
/// and between bodies the one that comes first.
Drawn visible_lines(const std::vector<Facets>& bodies, const ViewFrame& view,
                    const DrawnOptions& options = {});

}  // namespace ribbay

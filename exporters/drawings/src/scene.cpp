#include "scene.hpp"

#include "base/tolerance.hpp"
#include "layout/front.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kSmallest = 0.7;       // on paper: narrower features run together
constexpr double kSmallHardware = 4.0;  // on paper: smaller bought parts are clutter
constexpr double kSlotOpening = 8.0;    // an ordinary slot, mm; common practice, no source

bool inside_face(const FacetFace& face, const ViewFrame& view, Vec2 p) {
  bool in = false;
  for (const auto& loop : face.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = view.picture(loop[i]) - p;
      const Vec2 b = view.picture(loop[(i + 1) % loop.size()]) - p;
      if ((a.y <= 0.0) != (b.y <= 0.0) && (cross(a, b) > 0.0) == (b.y > a.y)) in = !in;
    }
  }
  return in;
}

double seen_area(const FacetFace& face, const ViewFrame& view) {
  double twice = 0.0;
  for (const auto& loop : face.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      twice += cross(view.picture(loop[i]), view.picture(loop[(i + 1) % loop.size()]));
    }
  }
  return twice / 2.0;
}

bool hidden_point(const std::vector<Facets>& bodies, const ViewFrame& view, Vec3 point) {
  const Vec3 eye = view.towards_eye();
  const Vec2 at = view.picture(point);
  for (const Facets& body : bodies) {
    for (const FacetFace& face : body.faces) {
      const double lean = dot(face.normal, eye);
      if (lean <= 1e-9) continue;
      // In front of the point, along the line of sight?
      const double ahead = dot(face.normal, face.loops.front().front() - point) / lean;
      if (ahead > kContact && inside_face(face, view, at)) return true;
    }
  }
  return false;
}

}  // namespace

Looks looks_at(const std::string& front, bool first_angle) {
  // The eye looks at the front face: "rear" fronts look backwards, so one looks along +x.
  const Vec3 eye = front_way(front);
  const Vec3 up{0, 0, 1};
  const Vec3 right = cross(up, eye);
  const double side =
      first_angle ? -1.0 : 1.0;  // which side the side view and the isometric look from
  const Vec3 corner = normalized(eye + right * side + up);
  const Vec3 across = normalized(cross(up, corner));
  return {{right, up}, {right, -eye}, {eye * -side, up}, {across, cross(corner, across)}};
}

SceneBodies scene_of(const Layout& layout, const std::vector<std::size_t>& parts, double scale) {
  std::vector<PlacedPart> placed;
  for (const std::size_t i : parts) placed.push_back({i, layout.parts[i].frame});
  return scene_of(layout, placed, scale);
}

SceneBodies scene_of(const Layout& layout, const std::vector<PlacedPart>& parts, double scale) {
  const FacetOptions options{.chord = std::max(0.05, 0.03 / scale),
                             .coarse = kSlotOpening * scale < kSmallest + 0.35,
                             .bores = true,
                             .smallest = kSmallest / scale};
  SceneBodies scene;
  const auto is_small = [&](const Part& part) {
    if (part.kind != PartKind::hardware) return false;
    const Vec3 s = bounds(*part.shape).size();
    return std::max({s.x, s.y, s.z}) * scale < kSmallHardware;
  };
  // Equal parts share their shape; nothing is made of small ones.
  std::map<std::pair<const Shape*, PartKind>, std::optional<Facets>> made;
  for (const auto& [index, frame] : parts) {
    const Part& part = layout.parts[index];
    const auto [found, fresh] = made.try_emplace({part.shape.get(), part.kind});
    if (fresh && !is_small(part)) found->second = facets(*part.shape, options);
    if (!found->second) continue;
    scene.bodies.push_back(placed(*found->second, frame));
    scene.part.push_back(index);
  }
  return scene;
}

Rect seen_box(const Box& box, const ViewFrame& view) {
  Rect r{{1e300, 1e300}, {-1e300, -1e300}};
  for (int corner = 0; corner < 8; ++corner) {
    const Vec2 p = view.picture({(corner & 1) != 0 ? box.hi.x : box.lo.x,
                                 (corner & 2) != 0 ? box.hi.y : box.lo.y,
                                 (corner & 4) != 0 ? box.hi.z : box.lo.z});
    r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
    r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
  }
  return r;
}

namespace {

/// The faces of a body that look to the eye, at most four: those of the largest seen area.
std::vector<const FacetFace*> faces_to_eye(const Facets& body, const ViewFrame& view) {
  struct Candidate {
    const FacetFace* face;
    double area;
  };
  std::vector<Candidate> faces;
  for (const FacetFace& face : body.faces) {
    if (dot(face.normal, view.towards_eye()) > 0.05)
      faces.push_back({&face, seen_area(face, view)});
  }
  std::ranges::stable_sort(
      faces, [](const Candidate& a, const Candidate& b) { return a.area > b.area + kSame; });
  if (faces.size() > 4) faces.resize(4);
  std::vector<const FacetFace*> largest;
  for (const Candidate& each : faces) largest.push_back(each.face);
  return largest;
}

/// Its middle, and points between that and its outline.
std::vector<Vec3> points_on(const FacetFace& face) {
  const auto& loop = face.loops.front();
  Vec3 middle;
  for (const Vec3 p : loop) middle = middle + p;
  middle = middle * (1.0 / static_cast<double>(loop.size()));
  std::vector<Vec3> points{middle};
  for (const double part : {0.5, 0.8}) {
    for (std::size_t i = 0; i < loop.size(); i += std::max<std::size_t>(1, loop.size() / 8)) {
      const Vec3 side = (loop[i] + loop[(i + 1) % loop.size()]) * 0.5;
      points.push_back(middle + (side - middle) * part);
      points.push_back(middle + (loop[i] - middle) * part);
    }
  }
  return points;
}

/// Points of a grid on a face, as it is seen.
std::vector<Vec3> grid_on(const FacetFace& face, const ViewFrame& view) {
  constexpr int cells = 12;
  Rect r{{1e300, 1e300}, {-1e300, -1e300}};
  for (const Vec3 corner : face.loops.front()) {
    const Vec2 p = view.picture(corner);
    r = united(r, {p, p});
  }
  const Vec3 eye = view.towards_eye();
  const double lean = dot(face.normal, eye);
  std::vector<Vec3> points;
  for (int i = 1; i < cells; ++i) {
    for (int j = 1; j < cells; ++j) {
      const Vec3 flat = view.right * (r.lo.x + r.width() * i / cells) +
                        view.up * (r.lo.y + r.height() * j / cells);
      // Along the line of sight onto the face.
      points.push_back(flat + eye * (dot(face.normal, face.loops.front().front() - flat) / lean));
    }
  }
  return points;
}

double distance_to(Vec2 p, const DrawnLine& line) {
  const Vec2 along = line.b - line.a;
  const double square = dot(along, along);
  const double at = square > 0.0 ? std::clamp(dot(p - line.a, along) / square, 0.0, 1.0) : 0.0;
  return length(p - line.a - along * at);
}

}  // namespace

std::optional<Vec2> seen_point(const std::vector<Facets>& bodies, std::size_t body,
                               const ViewFrame& view) {
  for (const FacetFace* face : faces_to_eye(bodies[body], view)) {
    for (const Vec3 p : points_on(*face)) {
      if (inside_face(*face, view, view.picture(p)) && !hidden_point(bodies, view, p))
        return view.picture(p);
    }
  }
  return std::nullopt;
}

std::optional<Vec2> clear_point(const std::vector<Facets>& bodies,
                                const std::vector<std::size_t>& any_of, const ViewFrame& view,
                                const Drawn& drawn, double clear) {
  struct Candidate {
    Vec3 point;
    double free;
  };
  std::vector<Candidate> candidates;
  const auto offer = [&](const FacetFace& face, const std::vector<Vec3>& points) {
    for (const Vec3 p : points) {
      const Vec2 at = view.picture(p);
      if (!inside_face(face, view, at)) continue;
      double free = clear;  // farther is no better
      for (const DrawnLine& line : drawn.lines) free = std::min(free, distance_to(at, line));
      candidates.push_back({p, free});
    }
  };
  for (const std::size_t body : any_of) {
    for (const FacetFace* face : faces_to_eye(bodies[body], view)) {
      offer(*face, points_on(*face));
      offer(*face, grid_on(*face, view));
    }
  }
  std::ranges::stable_sort(
      candidates, [](const Candidate& a, const Candidate& b) { return a.free > b.free + kSame; });
  for (const Candidate& each : candidates) {
    if (!hidden_point(bodies, view, each.point)) return view.picture(each.point);
  }
  return std::nullopt;
}

std::vector<int> owners_of(Drawing& d, const Layout& layout, const SceneBodies& scene) {
  std::vector<int> owners;
  for (const std::size_t part : scene.part) {
    owners.push_back(static_cast<int>(d.owners.size()));
    d.owners.push_back(layout.parts[part].id);
  }
  return owners;
}

}  // namespace ribbay::detail

#include "sections/cut_open.hpp"

#include "base/tolerance.hpp"
#include "drawings/convex_hull.hpp"
#include "drawings/sections.hpp"
#include "sections/fastener.hpp"
#include "shape/halved.hpp"

#include <algorithm>
#include <array>

namespace ribbay {

namespace {

constexpr double kTouching = 1.0;  // parts nearer than this are neighbours, mm
// In order of preference: direction first, then spacing, on paper.
constexpr HatchStyle kStyles[] = {{false, 1.5}, {true, 1.5},  {false, 2.5},
                                  {true, 2.5},  {false, 1.0}, {true, 1.0}};

/// The outline of each prism of a fastener, seen across its axis.
void add_outlines(const Part& part, const ViewFrame& view, std::vector<std::vector<Vec2>>& out) {
  for (const PlacedPrism& prism : part.shape->prisms) {
    std::vector<Vec2> points;
    const Facets one = placed(facets({{prism}}, {.bores = false}), part.frame);
    for (const FacetEdge& edge : one.edges) {
      points.push_back(view.picture(edge.a));
      points.push_back(view.picture(edge.b));
    }
    if (points.size() > 2) out.push_back(convex_hull(std::move(points)));
  }
}

}  // namespace

std::map<std::size_t, HatchStyle> hatch_styles(const Layout& layout,
                                               const std::vector<std::size_t>& parts) {
  std::vector<Box> boxes;
  std::map<std::size_t, HatchStyle> styles;
  std::vector<std::size_t> chosen;  // index into kStyles of each part
  for (std::size_t n = 0; n < parts.size(); ++n) {
    boxes.push_back(bounds(layout.parts[parts[n]]));
    std::array<int, std::size(kStyles)> taken{};
    for (std::size_t o = 0; o < n; ++o) {
      if (near(boxes[n], boxes[o], kTouching)) ++taken[chosen[o]];
    }
    const auto least = std::ranges::min_element(taken);
    chosen.push_back(static_cast<std::size_t>(least - taken.begin()));
    styles[parts[n]] = kStyles[chosen.back()];
  }
  return styles;
}

Section cut_open(const Layout& layout, const std::vector<std::size_t>& parts,
                 const std::map<std::size_t, HatchStyle>& styles, const SectionPlane& plane,
                 double scale) {
  return detail::cut_open(layout, detail::scene_of(layout, parts, scale), styles, plane, scale);
}

Section detail::cut_open(const Layout& layout, const SceneBodies& scene,
                         const std::map<std::size_t, HatchStyle>& styles, const SectionPlane& plane,
                         double scale) {
  const Vec3 normal = plane.view.towards_eye();
  Section section;
  std::vector<Facets> bodies;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    const Part& part = layout.parts[scene.part[b]];
    double lo = 1e300;
    double hi = -1e300;
    for (const FacetFace& face : scene.bodies[b].faces) {
      for (const auto& loop : face.loops) {
        for (const Vec3 p : loop) {
          lo = std::min(lo, dot(normal, p));
          hi = std::max(hi, dot(normal, p));
        }
      }
    }
    if (lo >= plane.at - kSame) continue;
    section.part.push_back(scene.part[b]);
    if (hi <= plane.at + kSame) {
      bodies.push_back(scene.bodies[b]);
      continue;
    }
    if (lies_across(layout, part, normal)) {
      bodies.push_back(scene.bodies[b]);
      add_outlines(part, plane.view, section.spared);
      continue;
    }
    Halved cut = halved(scene.bodies[b], normal, plane.at);
    bodies.push_back(std::move(cut.rest));
    if (part.kind == PartKind::equipment || cut.cut.empty()) continue;
    CutFace face{scene.part[b], {}, styles.at(scene.part[b])};
    face.style.spacing /= scale;
    for (const auto& loop : cut.cut) {
      face.outlines.emplace_back();
      for (const Vec3 p : loop) face.outlines.back().push_back(plane.view.picture(p));
    }
    face.narrow = strip_width(face.outlines) * scale < kNarrowFace;
    section.faces.push_back(std::move(face));
  }
  // Outlines of small rounds are short chords, which must not be lost.
  section.drawn = visible_lines(bodies, plane.view, {.shortest = 0.05 / scale});
  return section;
}

}  // namespace ribbay

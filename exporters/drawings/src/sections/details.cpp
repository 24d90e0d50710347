#include "sections/details.hpp"

#include "base/wording.hpp"
#include "detail_circle.hpp"
#include "sections/section_ink.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>

namespace ribbay::detail {

namespace {

constexpr double kTouching = 1.0;  // cut faces nearer than this meet, mm

std::size_t corners_near(const Section& section, Vec2 at, double radius) {
  std::size_t count = 0;
  for (const CutFace& face : section.faces) {
    for (const auto& loop : face.outlines) {
      count += static_cast<std::size_t>(
          std::ranges::count_if(loop, [&](Vec2 p) { return length(p - at) < radius; }));
    }
  }
  return count;
}

/// True when wood screws are all the hardware of a joint.
bool is_screwed(const Layout& layout, const Joint& joint) {
  return layout.catalogue && !joint.hardware.empty() &&
         std::ranges::all_of(joint.hardware, [&](const std::string& id) {
           const Part* part = layout.find(id);
           const auto& bolts = layout.catalogue->bolts;
           const auto bolt = part == nullptr ? bolts.end() : bolts.find(part->stock.key);
           return bolt != bolts.end() && bolt->second.kind == BoltKind::wood;
         });
}

/// "rebate, glued", "dado, screwed".
std::string kind_text(const Layout& layout, const Joint& joint) {
  std::string kind = joint.kind;
  if (joint.glued && kind.find("glued") == std::string::npos)
    kind = say("detail.glued", {{"kind", kind}});
  if (is_screwed(layout, joint) && kind.find("screwed") == std::string::npos)
    kind = say("detail.screwed", {{"kind", kind}});
  return kind;
}

/// Kinds of joints in one circle; one that the words of the other hold is not told twice.
std::string told_together(const std::string& one, const std::string& other) {
  if (one.find(other) != std::string::npos) return one;
  return other.find(one) != std::string::npos ? other : one + ", " + other;
}

}  // namespace

Rect bounds_of(const CutFace& face) {
  Rect r{face.outlines[0][0], face.outlines[0][0]};
  for (const auto& loop : face.outlines) {
    for (const Vec2 p : loop) {
      r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
      r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
    }
  }
  return r;
}

std::vector<DetailPlace> detail_places(const Layout& layout, const Module& module,
                                       const std::vector<Section>& sections, double radius,
                                       std::size_t most) {
  struct Best {
    DetailPlace place;
    std::size_t corners = 0;
  };
  std::map<std::string, Best> by_kind;
  const auto offer = [&](const std::string& kind, std::size_t section, Vec2 at) {
    const std::size_t corners = corners_near(sections[section], at, radius);
    Best& best = by_kind[kind];
    if (corners > best.corners) best = {{'D', section, at, kind}, corners};
  };
  for (std::size_t s = 0; s < sections.size(); ++s) {
    std::map<std::string, const CutFace*> face_of;
    for (const CutFace& face : sections[s].faces) face_of[layout.parts[face.part].id] = &face;
    for (const Joint& joint : layout.joints) {
      for (std::size_t i = 0; i + 1 < joint.parts.size(); ++i) {
        const auto one = face_of.find(joint.parts[i]);
        const auto other = face_of.find(joint.parts[i + 1]);
        if (one == face_of.end() || other == face_of.end() ||
            layout.parts[one->second->part].module != module.name)
          continue;
        const Rect a = grown(bounds_of(*one->second), kTouching);
        const Rect b = bounds_of(*other->second);
        if (!overlap(a, b)) continue;
        const Rect common{{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y)},
                          {std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y)}};
        // A long seam is told at its end.
        Vec2 at = common.centre();
        if (common.width() > radius) at.x = common.lo.x + radius / 2;
        if (common.height() > radius) at.y = common.lo.y + radius / 2;
        offer(kind_text(layout, joint), s, at);
      }
    }
    for (const CutFace& face : sections[s].faces) {
      if (layout.parts[face.part].kind != PartKind::folded) continue;
      for (const auto& loop : face.outlines) offer(say("detail.fold"), s, loop.front());
    }
  }
  // The densest first; one circle shows all kinds that lie together.
  std::vector<Best> dense;
  for (const auto& [kind, best] : by_kind) dense.push_back(best);
  std::ranges::stable_sort(dense, std::ranges::greater{}, &Best::corners);
  std::vector<DetailPlace> places;
  for (const auto& [place, corners] : dense) {
    const auto shown = std::ranges::find_if(places, [&](const DetailPlace& p) {
      return p.section == place.section && length(p.at - place.at) < radius;
    });
    if (shown != places.end())
      shown->kind = told_together(shown->kind, place.kind);
    else if (places.size() < most)
      places.push_back(place);
  }
  for (std::size_t i = 0; i < places.size(); ++i)
    places[i].letter = static_cast<char>('D' + i);  // A to C are sections
  return places;
}

ViewPlace detail_view(const DetailPlace& detail, Vec2 middle, double radius, double scale) {
  const double in_van = radius / scale;
  return place_view({detail.at - Vec2{in_van, in_van}, detail.at + Vec2{in_van, in_van}}, scale,
                    middle - Vec2{radius, radius});
}

ViewPlace add_detail(Drawing& d, const Layout& layout, const Section& section,
                     const DetailPlace& detail, Vec2 middle, double radius, double scale) {
  const ViewPlace place = open_view(d, detail_view(detail, middle, radius, scale));
  Drawing whole;  // the section with its hatching, to be clipped on paper
  add_section_ink(whole, layout, section, place);
  add_within_circle(d, whole, middle, radius, place.view);
  return place;
}

}  // namespace ribbay::detail

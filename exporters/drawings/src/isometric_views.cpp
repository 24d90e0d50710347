#include "isometric_views.hpp"

#include "balloons.hpp"
#include "base/wording.hpp"
#include "drawings/views.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ribbay::detail {

namespace {

using References = std::map<std::size_t, std::string>;

/// One isometric view of `parts`, with balloons on those whose reference is in `wanted`; takes the
/// references that it shows out of `wanted`. Nothing is drawn, and false returned, when there is no
/// room.
bool add_isometric(Drawing& d, const PageSet& set, const References& references,
                   const std::vector<std::size_t>& parts, const ViewFrame& view, double scale,
                   const Rect& area, const std::string& title, std::set<std::string>& wanted) {
  const SceneBodies scene = scene_of(set.layout, parts, scale);
  std::vector<std::pair<std::string, Vec2>> seen;
  std::set<std::string> shown;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    const auto reference = references.find(scene.part[b]);
    if (reference == references.end() || !wanted.contains(reference->second) ||
        shown.contains(reference->second))
      continue;
    const auto point = seen_point(scene.bodies, b, view);
    if (!point) continue;
    shown.insert(reference->second);
    seen.emplace_back(reference->second, *point);
  }
  if (seen.empty()) return false;
  const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});
  const Rect picture = bounds_of(drawn);
  const double column = std::ceil(static_cast<double>(seen.size()) / 2.0) * kBalloonPitch;
  const double height = std::max(picture.height() * scale, column);
  const double foot = 8.0;  // for the title
  const auto spot =
      free_spot(d, area, {picture.width() * scale + 2 * kBalloonRoom, height + foot + 2.0});
  if (!spot) return false;
  const Vec2 corner = *spot + Vec2{kBalloonRoom, foot + (height - picture.height() * scale) / 2};
  Drawing trial = d;
  const ViewPlace place = open_view(trial, place_view(picture, scale, corner));
  std::vector<Balloon> balloons;
  for (const auto& [reference, at] : seen)
    balloons.push_back({reference, {place.x.paper(at.x), place.y.paper(at.y)}});
  if (!add_balloons(trial, place.outline, balloons, spot->y + foot, spot->y + foot + height,
                    kGroup35.thin())) {
    return false;
  }
  add_view(trial, drawn, place, kGroup35.visible(), kGroup35.hidden(),
           owners_of(trial, set.layout, scene));
  add_text(trial, figure_title(title, scale), {place.outline.centre().x, spot->y + 1.5}, 3.5,
           Align::centre);
  d = std::move(trial);
  for (const std::string& reference : shown) wanted.erase(reference);
  return true;
}

}  // namespace

std::optional<std::set<std::string>> add_isometrics(Drawing& d, const PageSet& set,
                                                    const Module& module,
                                                    const ModuleContents& contents,
                                                    const ViewFrame& view, double largest,
                                                    const Rect& area) {
  References references;
  std::set<std::string> wanted;
  std::vector<std::size_t> parts;
  for (const auto* list : {&contents.fixed, &contents.movable, &contents.equipment})
    parts.insert(parts.end(), list->begin(), list->end());
  std::ranges::sort(parts);
  for (const auto& [part, reference] : references_of(set, module)) {
    if (set.layout.parts[part].kind == PartKind::hardware) continue;
    references[part] = reference;
    wanted.insert(reference);
  }
  std::string title = say("view.isometric");
  for (bool first = true; !wanted.empty(); first = false) {
    const std::set<std::string> before = wanted;
    bool placed = false;
    for (int smaller = 0; smaller < 3 && !placed; ++smaller) {
      placed = add_isometric(d, set, references, parts, view, smaller_scale(largest, smaller), area,
                             title, wanted);
    }
    if (!placed) return first ? std::nullopt : std::optional(wanted);
    title = say(first ? "view.outer_left_out" : "view.further_left_out");
    std::erase_if(parts, [&](std::size_t i) {
      const PartKind kind = set.layout.parts[i].kind;
      const auto reference = references.find(i);
      // Members stay: they show where the rest belongs.
      const bool shown = reference != references.end() && before.contains(reference->second) &&
                         !wanted.contains(reference->second);
      return kind == PartKind::hardware || (shown && kind != PartKind::member);
    });
  }
  return wanted;
}

}  // namespace ribbay::detail

#include "assembly_drawing.hpp"
#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/views.hpp"
#include "scene.hpp"
#include "van_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;
constexpr double kBetween = 5.0;      // views, on paper
constexpr double kSameStation = 0.5;  // positions closer than this print as one, mm
constexpr double kTitleFoot = 5.5;    // under a view's title, on paper

/// One side of the van as it is seen from the centre line.
struct Side {
  VanSide side;
  ViewFrame view;
  const char* title;  ///< key of its words
  double sign() const { return side == VanSide::left ? 1.0 : -1.0; }
};
/// The van drives to the right of the first and to the left of the second.
constexpr std::array<Side, 2> kSides{
    {{VanSide::left, {{1, 0, 0}, {0, 0, 1}}, "view.left_side"},
     {VanSide::right, {{-1, 0, 0}, {0, 0, 1}}, "view.right_side"}}};

std::vector<std::size_t> parts_on(const Layout& layout, const Side& side) {
  std::vector<std::size_t> parts;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (layout.parts[i].kind == PartKind::hardware) continue;
    const Box box = bounds(layout.parts[i]);
    if (std::max(side.sign() * box.lo.y, side.sign() * box.hi.y) > kSameStation) parts.push_back(i);
  }
  return parts;
}

std::string title_of(const Module& module) {
  return module.title.empty() ? module.name : module.title;
}

/// The rear edge is the datum of the lengths, the load floor that of the heights.
struct Positions {
  std::vector<double> along;  ///< x
  std::vector<double> heights;
};

Positions positions_of(const Layout& layout, const Side& side,
                       const std::vector<std::size_t>& parts) {
  const Vehicle& van = *layout.vehicle;
  Positions out;
  for (const Rib& rib : van.ribs) {
    if (rib.side == side.side) out.along.push_back(rib.x);
  }
  for (const WheelArch& arch : van.arches) {
    if (arch.side != side.side) continue;
    out.along.insert(out.along.end(), {arch.from, arch.to});
    out.heights.push_back(arch.height);
  }
  for (const Opening& opening : van.openings) {
    if (opening.kind == OpeningKind::rear || opening.side != side.side) continue;
    out.along.insert(out.along.end(), {opening.from, opening.to});
    out.heights.insert(out.heights.end(), {opening.bottom, opening.top});
  }
  for (const Module& m : layout.modules) {
    Box box;
    for (const std::size_t i : parts) {
      if (layout.parts[i].module == m.name) box.add(bounds(layout.parts[i]));
    }
    if (!box.empty()) out.heights.insert(out.heights.end(), {box.lo.z, box.hi.z});
  }
  for (std::vector<double>* list : {&out.along, &out.heights}) {
    std::ranges::sort(*list);
    const auto same = [](double a, double b) { return b - a < kSameStation; };
    list->erase(std::unique(list->begin(), list->end(), same), list->end());
    std::erase_if(*list, [](double v) { return v < kSameStation; });
  }
  return out;
}

/// Gaps whose narrowest place lies on this side.
std::vector<std::size_t> gaps_on(const std::vector<CalledGap>& gaps, const Side& side) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    const bool left = gaps[i].at.y >= 0.0;
    if (left == (side.side == VanSide::left)) out.push_back(i);
  }
  return out;
}

std::string gap_name(std::size_t index) {
  return "G" + std::to_string(index + 1);
}

Table gap_table(const PageSet& set) {
  const auto show = [&](double mm) { return length_text(mm, set.layout.project.show); };
  Table table;
  table.columns = {{say("column.gap"), 12},
                   {say("column.drawn"), 16, Align::right},
                   {say("column.at_least"), 18, Align::right},
                   {say("column.along"), 14},
                   {say("column.between"), 48},
                   {say("column.and"), 42}};
  static constexpr const char* axes[] = {"x", "y", "z"};
  for (std::size_t i = 0; i < set.gaps.size(); ++i) {
    const CalledGap& gap = set.gaps[i];
    table.rows.push_back({gap_name(i), show(gap.drawn), show(gap.least), axes[gap.axis],
                          said_of(set, gap.a), said_of(set, gap.b)});
  }
  return table;
}

/// The title of a module with a leader to one of its parts, the first that is in sight and from
/// where a leader finds a place. True too when none of it is in sight; false when there is no room.
bool add_title(Drawing& d, const Layout& layout, const Module& module, const Side& side,
               const SceneBodies& scene, const ViewPlace& place, const std::vector<Rect>& avoid) {
  bool seen = false;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    if (layout.parts[scene.part[b]].module != module.name) continue;
    const auto at = seen_point(scene.bodies, b, side.view);
    if (!at) continue;
    seen = true;
    if (add_callout(d, {place.x.paper(at->x), place.y.paper(at->y)}, title_of(module), kLetters,
                    kGroup35.thin(), avoid, true))
      return true;
  }
  return !seen;
}

void draw_side(Drawing& d, const Layout& layout, const Side& side, const ViewPlace& place,
               const SceneBodies& scene, double scale) {
  std::vector<Facets> bodies = scene.bodies;
  bodies.push_back(side_wires(*layout.vehicle, side.side, side.view.towards_eye()));
  const auto van = static_cast<int>(scene.bodies.size());
  const Drawn all = visible_lines(bodies, side.view, {.hidden = true, .shortest = 0.3 / scale});
  // Modules hide each other; what they hide of the van stays, dashed: it is what they are fixed to.
  Drawn modules;
  Drawn wires;
  for (const DrawnLine& l : all.lines) {
    if (l.body == van)
      wires.lines.push_back(l);
    else if (l.visible)
      modules.lines.push_back(l);
  }
  for (const DrawnArc& a : all.arcs) {
    if (a.body == van)
      wires.arcs.push_back(a);
    else if (a.visible)
      modules.arcs.push_back(a);
  }
  std::vector<int> owners = owners_of(d, layout, scene);
  owners.push_back(-1);
  add_view(d, modules, place, kGroup35.visible(), kGroup35.hidden(), owners);
  add_view(d, wires, place, kGroup35.context(), kGroup35.hidden(), owners);
}

}  // namespace

std::optional<Drawing> van_elevations(const PageSet& set, PageSize page, double scale) {
  const Layout& layout = set.layout;
  if (!layout.vehicle) return std::nullopt;
  TitleBlock block = title_block(set);
  block.title = say("title.sides");
  block.subtitle = layout.project.title.empty() ? layout.project.name : layout.project.title;
  block.number = document_number(set, "sides");
  block.type = say("document.arrangement");
  block.scale = scale_text(scale);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const DimensionStyle style{.height = kLetters,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  double head = area.hi.y - 3.7;
  std::vector<std::pair<Side, ViewPlace>> places;
  std::vector<SceneBodies> scenes;
  bool any = false;
  for (const Side& side : kSides) {
    const std::vector<std::size_t> parts = parts_on(layout, side);
    any = any || !parts.empty();
    Box box;
    for (const Vec2 p : side_outline(*layout.vehicle)) box.add(Vec3{p.x, 0.0, p.y});
    for (const std::size_t i : parts) box.add(bounds(layout.parts[i]));
    const Rect picture = seen_box(box, side.view);
    const Positions at = positions_of(layout, side, parts);
    AxisPlan along{ViewSide::bottom, 0.0, 1e9, false, {}};
    for (const double x : at.along) along.positions.push_back(side.view.right.x * x);
    // Heights stand where the van's rear is.
    const bool to_right = side.side == VanSide::left;
    const AxisPlan up{to_right ? ViewSide::left : ViewSide::right, 0.0, 1e9, false, at.heights};
    const double left = area.lo.x + (to_right ? depth_of(up, style) + 6.0 : 10.0);
    const double foot = head - kTitleFoot - picture.height() * scale;
    if (foot - depth_of(along, style) < area.lo.y + 2.0) return std::nullopt;
    ViewPlace place = place_view(picture, scale, {left, foot});
    if (!view_free(d, place.outline, 4.0)) return std::nullopt;
    place = open_view(d, place);
    const SceneBodies scene = scene_of(layout, parts, scale);
    draw_side(d, layout, side, place, scene, scale);
    if (!add_axis_dimensions(d, place, {along, up}, style)) return std::nullopt;
    // The title stands at the rear end, the arrow at the other.
    add_text(d, say(side.title),
             {to_right ? place.outline.lo.x : place.outline.hi.x, place.outline.hi.y + 1.6}, 3.5,
             to_right ? Align::left : Align::right);
    add_forward(d, {place.outline.lo, place.outline.hi + Vec2{0, 10.65}}, to_right);
    places.emplace_back(side, place);
    scenes.push_back(scene);
    head = foot - depth_of(along, style) - kBetween;
  }
  if (!any) return std::nullopt;
  std::vector<Rect> avoid;
  for (const auto& [side, place] : places) {
    for (const std::size_t i : gaps_on(set.gaps, side)) {
      const Vec2 seen = side.view.picture(set.gaps[i].at);
      const Vec2 at{place.x.paper(seen.x), place.y.paper(seen.y)};
      avoid.push_back(grown({at, at}, 1.5));
    }
  }
  for (std::size_t k = 0; k < places.size(); ++k) {
    const auto& [side, place] = places[k];
    for (const std::size_t i : gaps_on(set.gaps, side)) {
      const Vec2 seen = side.view.picture(set.gaps[i].at);
      const Vec2 at{place.x.paper(seen.x), place.y.paper(seen.y)};
      if (!add_callout(d, at, gap_name(i), kLetters, kGroup35.thin(), avoid, true))
        return std::nullopt;
    }
    for (const Module& m : layout.modules) {
      if (!add_title(d, layout, m, side, scenes[k], place, avoid)) return std::nullopt;
    }
  }
  std::vector<std::string> notes{say("note.sides")};
  const Table table = gap_table(set);
  if (!set.gaps.empty()) {
    notes.push_back(say("note.gaps"));
  }
  const double width = table.width();
  const double high = notes_height(notes, width, kLetters);
  const double rows = set.gaps.empty() ? 0.0 : table.total_height() + 3.0;
  const auto spot = free_spot(d, area, {width, high + rows});
  if (!spot) return std::nullopt;
  add_notes(d, notes, *spot + Vec2{0, high + rows}, width, kLetters);
  if (!set.gaps.empty()) add_table(d, table, *spot + Vec2{0, rows - 3.0});
  return d;
}

}  // namespace ribbay::detail

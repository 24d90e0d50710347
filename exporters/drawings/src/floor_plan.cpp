#include "assembly_drawing.hpp"
#include "base/wording.hpp"
#include "drawings/views.hpp"
#include "layout/floor_holes.hpp"
#include "scene.hpp"
#include "structure/grips.hpp"
#include "van_lines.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;

/// What takes the bolt below the deck.
std::string taken_by(const Vehicle& van, const FloorBolt& hole) {
  if (!hole.hard_point.empty()) return say("floor.hard_point", {{"name", hole.hard_point}});
  if (hole.pipe) return say("floor.beside_joists");
  const Joist* joist = hole.over_joist ? nearest_joist(van, hole.at) : nullptr;
  return joist != nullptr ? say("floor.joist", {{"name", joist->name}}) : say("floor.deck_only");
}

/// What to drill, and through what: the clearance hole of the bolt, the pilot hole of a wood screw,
/// the hole of a pipe's fitting.
std::string drill_text(const Layout& layout, const FloorBolt& hole) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  const double deck = layout.vehicle->floor_thickness;
  const std::string through =
      deck > 0.0 ? say("floor.deck_thick", {{"thickness", show(deck)}}) : say("floor.deck");
  const auto drill = [&](const char* key, double diameter) {
    return say(key, {{"drill", "Ø" + show(diameter)}, {"deck", through}});
  };
  if (hole.pipe) return drill("floor.drill", hole.diameter);
  const Part* part = layout.find(hole.id);
  if (part == nullptr || !layout.catalogue) return "";
  const auto found = layout.catalogue->bolts.find(part->stock.key);
  if (found == layout.catalogue->bolts.end()) return "";
  const Bolt& bolt = found->second;
  if (bolt.kind == BoltKind::wood) {
    const double deep = -bounds(*part).lo.z;
    return bolt.pilot_hole > 0.0
               ? say("floor.pilot", {{"drill", "Ø" + show(bolt.pilot_hole)}, {"depth", show(deep)}})
               : say("floor.no_pilot");
  }
  const bool joist = hole.hard_point.empty() && hole.over_joist;
  return drill(joist ? "floor.drill_joist" : "floor.drill", bolt.clearance_hole);
}

/// Ids of the bolts that take a nut below the floor.
std::set<std::string> nuts_below(const Layout& layout) {
  std::set<std::string> nuts;
  for (const Grip& grip : grips(layout)) {
    if (grip.under_floor) nuts.insert(grip.id);
  }
  return nuts;
}

Table hole_table(const Layout& layout, const std::vector<FloorHole>& holes) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  Table table;
  table.columns = {{say("column.hole"), 13}, {"X", 17, Align::right},  {"Y", 17, Align::right},
                   {say("column.side"), 14}, {say("column.bolt"), 36}, {say("column.drill"), 50},
                   {say("column.into"), 40}, {say("column.for"), 50}};
  const std::set<std::string> nuts = nuts_below(layout);
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const FloorBolt& hole = holes[i].bolt;
    table.rows.push_back({holes[i].name, show(hole.at.x), show(std::abs(hole.at.y)),
                          hole.at.y > 0.0   ? say("side.left")
                          : hole.at.y < 0.0 ? say("side.right")
                                            : "",
                          hole.pipe ? say("floor.pipe", {{"diameter", "Ø" + show(hole.diameter)}})
                          : nuts.contains(hole.id)
                              ? say("floor.bolt_and_nut", {{"diameter", "Ø" + show(hole.diameter)}})
                              : "Ø" + show(hole.diameter),
                          drill_text(layout, hole), taken_by(*layout.vehicle, hole),
                          module_title(layout, hole.id.substr(0, hole.id.find('/')))});
  }
  return table;
}

std::vector<std::string> notes_of(const Layout& layout, const std::vector<FloorHole>& holes) {
  const std::set<std::string> nuts = nuts_below(layout);
  std::vector<std::string> notes{say("note.floor_axes"), say("note.floor_below")};
  // Common practice, no source.
  if (std::ranges::any_of(holes, [&](const FloorHole& h) {
        return nuts.contains(h.bolt.id) && !h.bolt.over_joist;
      }))
    notes.push_back(say("note.deck_only"));
  notes.push_back(say("note.no_crash_proof"));
  return notes;
}

/// Joists as hidden edges, their middles from the rear, and what must not be drilled.
void draw_below(Drawing& d, const ViewPlace& place, const Vehicle& van) {
  for (const Joist& j : van.joists) {
    const double half = j.width / 2;
    const Vec2 lo = j.across ? Vec2{j.at - half, j.from} : Vec2{j.from, j.at - half};
    const Vec2 hi = j.across ? Vec2{j.at + half, j.to} : Vec2{j.to, j.at + half};
    draw_line(d, place, rectangle_line(lo, hi), kGroup35.hidden());
  }
  for (const NoDrill& zone : van.no_drill) {
    const Vec2 lo{zone.from, zone.right};
    const Vec2 hi{zone.to, zone.left};
    draw_line(d, place, rectangle_line(lo, hi), kGroup35.visible());
    draw_line(d, place, {lo, hi}, kGroup35.thin());
    draw_line(d, place, {{lo.x, hi.y}, {hi.x, lo.y}}, kGroup35.thin());
  }
}

bool add_names(Drawing& d, const ViewPlace& place, const Vehicle& van,
               const std::vector<FloorHole>& holes) {
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  std::vector<Vec2> places;
  for (const FloorHole& hole : holes) places.push_back(paper(hole.bolt.at));
  for (std::size_t i = 0; i < holes.size(); ++i) {
    constexpr double reach = 20.0;
    constexpr double clearance = 0.8;
    if (!add_label(d, places[i], holes[i].name, kLetters, reach, places, clearance) &&
        !add_callout(d, places[i], holes[i].name, kLetters, kGroup35.thin(), {}, true))
      return false;
  }
  std::vector<Rect> avoid;
  for (const FloorHole& hole : holes)
    avoid.push_back(grown({paper(hole.bolt.at), paper(hole.bolt.at)}, 2.0));
  for (const NoDrill& zone : van.no_drill) {
    const Vec2 at{(zone.from + zone.to) / 2, (zone.right + zone.left) / 2};
    const std::string text =
        say("floor.no_drilling", {{"what", zone.what.empty() ? zone.name : zone.what}});
    if (!add_callout(d, paper(at), text, kLetters, kGroup35.thin(), avoid, true)) return false;
  }
  return true;
}

}  // namespace

std::optional<Drawing> floor_plan(const PageSet& set, PageSize page, double scale) {
  const Layout& layout = set.layout;
  if (!layout.vehicle || layout.floor_bolts.empty()) return std::nullopt;
  const Vehicle& van = *layout.vehicle;
  const std::vector<FloorHole> holes = floor_holes(layout);
  TitleBlock block = title_block(set);
  block.title = say("title.floor");
  block.subtitle = layout.project.title.empty() ? layout.project.name : layout.project.title;
  block.number = document_number(set, "floor");
  block.type = say("document.drilling");
  block.scale = scale_text(scale);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);

  const VanLine floor = floor_outline(van);
  if (floor.empty()) return std::nullopt;
  Rect picture{{0, 0}, {0, 0}};  // the datum belongs to it
  const auto add = [&](Vec2 p) {
    picture.lo = {std::min(picture.lo.x, p.x), std::min(picture.lo.y, p.y)};
    picture.hi = {std::max(picture.hi.x, p.x), std::max(picture.hi.y, p.y)};
  };
  for (const Vec2 p : floor) add(p);
  for (const FloorHole& hole : holes) add(hole.bolt.at);
  for (const Joist& j : van.joists) {
    add(j.across ? Vec2{j.at, j.from} : Vec2{j.from, j.at});
    add(j.across ? Vec2{j.at, j.to} : Vec2{j.to, j.at});
  }
  for (const NoDrill& zone : van.no_drill) {
    add({zone.from, zone.right});
    add({zone.to, zone.left});
  }
  const DimensionStyle style{.height = kLetters,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  // Joists are given by their middles.
  AxisPlan along{ViewSide::bottom, 0.0, floor.front().x, false, {}};
  for (const Joist& j : van.joists) {
    if (j.across) along.positions.push_back(j.at);
  }
  const double foot = depth_of(along, style) + 8.0;
  const Vec2 corner{area.lo.x + 22.0, area.hi.y - 22.0 - picture.height() * scale};
  ViewPlace place = place_view(picture, scale, corner);
  if (!view_free(d, place.outline, 8.0) || corner.y - foot < area.lo.y) return std::nullopt;
  place = open_view(d, place);
  draw_line(d, place, floor, kGroup35.visible());
  draw_arches(d, place, van);
  draw_below(d, place, van);
  for (const Module& m : layout.modules) {
    const bool fixed = std::ranges::any_of(
        holes, [&](const FloorHole& h) { return h.bolt.id.starts_with(m.name + "/"); });
    if (fixed) {
      draw_line(
          d, place,
          rectangle_line({m.envelope.lo.x, m.envelope.lo.y}, {m.envelope.hi.x, m.envelope.hi.y}),
          kGroup35.context());
    }
  }
  draw_line(d, place, {{picture.lo.x, 0.0}, {picture.hi.x, 0.0}}, kGroup35.centre());
  for (const FloorHole& hole : holes) {
    const Vec2 at{place.x.paper(hole.bolt.at.x), place.y.paper(hole.bolt.at.y)};
    add_circle(d, at, std::max(0.8, hole.bolt.diameter / 2 * scale), kGroup35.visible());
    for (const Vec2 arm : {Vec2{2.2, 0}, Vec2{0, 2.2}})
      add_line(d, at - arm, at + arm, kGroup35.thin());
  }
  if (!add_axis_dimensions(d, place, {along}, style)) return std::nullopt;
  // Above the view: joists fill its corner.
  add_forward(d, {place.outline.lo, place.outline.hi + Vec2{0, 14.0}});
  if (!add_names(d, place, van, holes)) return std::nullopt;
  const Vec2 datum{place.x.paper(0.0), place.y.paper(0.0)};
  if (!add_callout(d, datum, say("floor.datum"), kLetters, kGroup35.thin(), {}, true))
    return std::nullopt;

  const Table table = hole_table(layout, holes);
  const auto notes = notes_of(layout, holes);
  const double width = title_area(d).width() - 8.0;
  const double left = title_area(d).lo.x;
  double top = title_area(d).hi.y + 3.0 + notes_height(notes, width, kLetters);
  const Rect text{{left + 4.0, title_area(d).hi.y + 1.0}, {left + 4.0 + width, top}};
  const double right = title_area(d).hi.x - 4.0;
  const Rect rows{{right - table.width(), top + 3.0}, {right, top + 3.0 + table.total_height()}};
  if (!view_free(d, text, 0.0) || rows.hi.y > area.hi.y || !view_free(d, rows, 0.6))
    return std::nullopt;
  add_notes(d, notes, {left + 4.0, top}, width, kLetters);
  add_table(d, table, {rows.lo.x, rows.hi.y});
  return d;
}

}  // namespace ribbay::detail

#include "assembly_drawing.hpp"
#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "scene.hpp"
#include "structure/wall_holes.hpp"
#include "van_lines.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;
constexpr double kTitle = 3.5;
constexpr double kOnCentre = 0.05;  // nearer to the centre line prints as on it, mm
constexpr double kBetween = 6.0;    // views, on paper
constexpr double kTitleFoot = 6.0;  // under a view's title, on paper

struct WallPlace {
  ViewFrame view;
  const char* title;  ///< key of its words
  const char* side;   ///< the same, in the table
  bool to_right;      ///< the van drives to the right of the picture
};
constexpr WallPlace kPlaces[] = {{{{1, 0, 0}, {0, 0, 1}}, "view.left_side", "side.left", true},
                                 {{{-1, 0, 0}, {0, 0, 1}}, "view.right_side", "side.right", false},
                                 {{{1, 0, 0}, {0, 1, 0}}, "view.roof", "side.roof", true}};

/// "M8 × 25"; a wood screw by its title.
std::string bolt_text(const Bolt& bolt) {
  if (bolt.kind == BoltKind::wood) return bolt.title;
  return "M" + rounded_text(bolt.diameter, 1) + " × " + rounded_text(bolt.length, 1);
}

std::string drill_text(const WallHole& hole, LengthStyle show) {
  const Bolt& bolt = *hole.bolt;
  if (bolt.kind == BoltKind::wood) {
    return bolt.pilot_hole > 0.0
               ? say("floor.pilot", {{"drill", "Ø" + length_text(bolt.pilot_hole, show)},
                                     {"depth", length_text(hole.deep, show)}})
               : say("floor.no_pilot");
  }
  if (!hole.rivet_nut.empty()) return say("wall.rivet_nut", {{"thread", hole.rivet_nut}});
  return say("wall.bolt", {{"drill", "Ø" + length_text(bolt.clearance_hole, show)}});
}

Table hole_table(const std::vector<WallHole>& holes, const Layout& layout) {
  const LengthStyle show = layout.project.show;
  Table table;
  double widest_drill = 36.0;
  for (const WallHole& hole : holes)
    widest_drill = std::max(widest_drill, text_width(drill_text(hole, show), table.height) + 3.0);
  table.columns = {{say("column.hole"), 12},
                   {say("column.side"), 13},
                   {"X", 16, Align::right},
                   {say("column.height"), 16, Align::right},
                   {say("column.off_centre"), 30},
                   {say("column.bolt"), 36},
                   {say("column.drill"), widest_drill},
                   {say("column.into"), 20},
                   {say("column.for"), 46}};
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const WallHole& hole = holes[i];
    const bool roof = hole.place == 2;
    const std::string side =
        std::abs(hole.at.y) < kOnCentre ? "" : say(hole.at.y > 0.0 ? "side.left" : "side.right");
    table.rows.push_back(
        {holes[i].name, say(kPlaces[hole.place].side), length_text(hole.at.x, show),
         roof ? "" : length_text(hole.at.z, show),
         roof ? length_text(std::abs(hole.at.y), show) + (side.empty() ? "" : " ") + side : "",
         bolt_text(*hole.bolt), drill_text(hole, show), hole.into,
         hole.held.empty() ? module_title(layout, hole.module)
                           : module_title(layout, hole.module) + ", " + hole.held});
  }
  return table;
}

VanLine place_outline(const Vehicle& van, int place) {
  return place == 2 ? floor_outline(van) : side_outline(van);
}

void draw_van(Drawing& d, const Vehicle& van, int place, const ViewPlace& at) {
  if (place == 2) {
    draw_line(d, at, floor_outline(van), kGroup35.context());
    for (const Bow& bow : van.bows) {
      draw_line(d, at,
                rectangle_line({bow.x - bow.width / 2, bow.from}, {bow.x + bow.width / 2, bow.to}),
                kGroup35.thin());
    }
    return;
  }
  const ViewFrame& view = kPlaces[place].view;
  const Facets wires =
      side_wires(van, place == 0 ? VanSide::left : VanSide::right, view.towards_eye());
  add_view(d, visible_lines({wires}, view, {}), at, kGroup35.context(), kGroup35.hidden());
}

/// Middles of ribs or bows, as the picture has them.
AxisPlan stations_of(const Vehicle& van, int place) {
  AxisPlan along{ViewSide::bottom, 0.0, 1e9, false, {}};
  if (place == 2) {
    for (const Bow& bow : van.bows) along.positions.push_back(bow.x);
    return along;
  }
  for (const Rib& rib : van.ribs) {
    if ((rib.side == VanSide::left) == (place == 0))
      along.positions.push_back(kPlaces[place].view.right.x * rib.x);
  }
  return along;
}

}  // namespace

bool has_wall_holes(const Layout& layout) {
  return !wall_holes(layout).empty();
}

std::optional<Drawing> wall_plan(const PageSet& set, PageSize page, double scale) {
  const Layout& layout = set.layout;
  const std::vector<WallHole> holes = wall_holes(layout);
  if (holes.empty()) return std::nullopt;
  const Vehicle& van = *layout.vehicle;
  const LengthStyle show = layout.project.show;
  TitleBlock block = title_block(set);
  block.title = say("title.walls");
  block.subtitle = layout.project.title.empty() ? layout.project.name : layout.project.title;
  block.number = document_number(set, "walls");
  block.type = say("document.drilling");
  block.scale = scale_text(scale);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const DimensionStyle style{
      .height = kLetters, .first = 8.0, .pitch = 6.5, .pen = kGroup35.thin(), .show = show};
  Vec2 corner{area.lo.x + 4.0, area.hi.y - 4.0};  // upper left of the next view
  double row = 0.0;                               // height of this row of views
  std::vector<std::pair<int, ViewPlace>> places;
  for (int place = 0; place < 3; ++place) {
    if (std::ranges::find(holes, place, &WallHole::place) == holes.end()) continue;
    const ViewFrame& view = kPlaces[place].view;
    Rect picture{{0, 0}, {0, 0}};  // the datum belongs to it
    for (const Vec2 p : place_outline(van, place)) {
      const Vec2 seen{view.right.x * p.x, p.y};
      picture = united(picture, {seen, seen});
    }
    for (const WallHole& hole : holes) {
      const Vec2 seen = view.picture(hole.at);
      if (hole.place == place) picture = united(picture, {seen, seen});
    }
    const AxisPlan along = stations_of(van, place);
    const bool to_right = kPlaces[place].to_right;
    const std::string title = say(kPlaces[place].title);
    const double wide = picture.width() * scale;
    const double slot = std::max(wide, text_width(title, kTitle));
    if (corner.x + slot > area.hi.x - 2.0) {
      corner = {area.lo.x + 4.0, corner.y - row - kBetween};
      row = 0.0;
    }
    const double foot = corner.y - kTitleFoot - picture.height() * scale;
    if (foot - depth_of(along, style) < area.lo.y + 2.0) return std::nullopt;
    ViewPlace at = place_view(picture, scale, {to_right ? corner.x : corner.x + slot - wide, foot});
    if (!view_free(d, at.outline, 3.0)) return std::nullopt;
    at = open_view(d, at);
    draw_van(d, van, place, at);
    if (!add_axis_dimensions(d, at, {along}, style)) return std::nullopt;
    add_text(d, title, {to_right ? at.outline.lo.x : at.outline.hi.x, at.outline.hi.y + 1.8},
             kTitle, to_right ? Align::left : Align::right);
    add_forward(d, {at.outline.lo, at.outline.hi + Vec2{0, 10.65}}, to_right);
    places.emplace_back(place, at);
    row = std::max(row, corner.y - foot + depth_of(along, style));
    corner.x += slot + kBetween;
  }
  const auto paper = [&](const ViewPlace& at, const WallHole& hole) {
    const Vec2 seen = kPlaces[hole.place].view.picture(hole.at);
    return Vec2{at.x.paper(seen.x), at.y.paper(seen.y)};
  };
  for (const auto& [place, at] : places) {
    for (const WallHole& hole : holes) {
      if (hole.place != place) continue;
      for (const Vec2 arm : {Vec2{1.6, 0}, Vec2{0, 1.6}})
        add_line(d, paper(at, hole) - arm, paper(at, hole) + arm, kGroup35.thin());
    }
  }
  for (const auto& [place, at] : places) {
    for (std::size_t i = 0; i < holes.size(); ++i) {
      if (holes[i].place != place) continue;
      const Vec2 spot = paper(at, holes[i]);
      if (!add_label(d, spot, holes[i].name, kLetters, 5.0) &&
          !add_callout(d, spot, holes[i].name, kLetters, kGroup35.thin(), {}, true))
        return std::nullopt;
    }
  }
  const std::vector<std::string> notes{say("note.walls"), say("note.no_crash_proof")};
  const Table table = hole_table(holes, layout);
  const double high = notes_height(notes, table.width(), kLetters);
  const double rows = table.total_height() + 3.0;
  const auto spot = free_spot(d, area, {table.width(), high + rows});
  if (!spot) return std::nullopt;
  add_notes(d, notes, *spot + Vec2{0, high + rows}, table.width(), kLetters);
  add_table(d, table, *spot + Vec2{0, rows - 3.0});
  return d;
}

}  // namespace ribbay::detail

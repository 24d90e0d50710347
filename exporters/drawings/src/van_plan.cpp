#include "assembly_drawing.hpp"
#include "base/wording.hpp"
#include "drawings/views.hpp"
#include "scene.hpp"
#include "van_lines.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Everything in the van from the front left above, as large as the free room allows; nothing when
/// there is none.
void add_overview(Drawing& d, const Layout& layout, const std::vector<std::size_t>& parts,
                  double largest, const Rect& area) {
  const ViewFrame view = looks_at("left", layout.project.first_angle).isometric;
  // Part by part: the box of all, seen askew, is a good deal larger than what stands in it.
  std::optional<Rect> seen;
  for (const std::size_t i : parts) {
    const Rect part = seen_box(bounds(layout.parts[i]), view);
    seen = seen ? united(*seen, part) : part;
  }
  if (!seen) return;
  const Rect picture = *seen;
  constexpr double foot = 8.0;  // for the title
  for (int smaller = 0; smaller < 3; ++smaller) {
    const double scale = smaller_scale(largest, smaller);
    const Vec2 size{picture.width() * scale, picture.height() * scale + foot};
    const auto spot = free_spot(d, area, size);
    if (!spot) continue;
    const ViewPlace place = open_view(d, place_view(picture, scale, *spot + Vec2{0.0, foot}));
    const SceneBodies scene = scene_of(layout, parts, scale);
    add_view(d, visible_lines(scene.bodies, view, {.shortest = 0.3 / scale}), place,
             kGroup35.visible(), kGroup35.hidden(), owners_of(d, layout, scene));
    add_text(d, figure_title(say("view.isometric"), scale),
             {place.outline.centre().x, spot->y + 1.5}, 3.5, Align::centre);
    return;
  }
}

struct PlanName {
  std::string text;
  Vec2 at;
  Rect covers;  ///< what the module covers on paper
};

/// Each module's name with a leader: within its module or beside all of them, where that can be,
/// for a name on another module reads as that one's.
bool add_module_names(Drawing& d, const Layout& layout, const ViewPlace& plan,
                      const Rect& elevation) {
  std::vector<PlanName> names;
  for (const Module& m : layout.modules) {
    const Box& box = m.envelope;
    const auto paper = [&](Vec3 p) { return Vec2{plan.x.paper(p.x), plan.y.paper(p.y)}; };
    const Vec2 at = paper(box.centre());
    if (inside({at, at}, plan.outline))
      names.push_back({m.title.empty() ? m.name : m.title, at, {paper(box.lo), paper(box.hi)}});
  }
  for (const PlanName& name : names) {
    std::vector<Rect> avoid{elevation};
    for (const PlanName& other : names) avoid.push_back(grown({other.at, other.at}, 2.0));
    std::vector<Rect> strict = avoid;
    for (const PlanName& other : names) {
      if (&other != &name) strict.push_back(other.covers);
    }
    if (!add_callout(d, name.at, name.text, 3.5, kGroup35.thin(), strict, true) &&
        !add_callout(d, name.at, name.text, 3.5, kGroup35.thin(), avoid, true))
      return false;
  }
  return true;
}

/// Where each module begins and ends. False when the table has no room.
bool add_places(Drawing& d, const Layout& layout, const Rect& area) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  const auto across = [&](double y) {
    // A hair beside the centre line is on it.
    if (std::abs(y) < 0.05) return show(0.0);
    return show(std::abs(y)) + " " + say(y > 0.0 ? "side.left" : "side.right");
  };
  Table table;
  table.columns = {{say("column.module"), 38},
                   {say("column.x_from"), 18, Align::right},
                   {say("column.x_to"), 18, Align::right},
                   {say("column.y_from"), 26, Align::right},
                   {say("column.y_to"), 26, Align::right},
                   {say("column.z_from"), 18, Align::right},
                   {say("column.z_to"), 18, Align::right}};
  for (const Module& m : layout.modules) {
    Box box;  // of what is made, with its finish; what is bought alone where nothing is
    Box held;
    for (const Part& part : layout.parts) {
      if (part.module != m.name || part.kind == PartKind::hardware) continue;
      (part.kind == PartKind::equipment ? held : box).add(bounds(part));
    }
    if (box.empty()) box = held;
    if (box.empty()) continue;
    table.rows.push_back({m.title.empty() ? m.name : m.title, show(box.lo.x), show(box.hi.x),
                          across(box.lo.y), across(box.hi.y), show(box.lo.z), show(box.hi.z)});
  }
  const std::vector<std::string> notes{say("note.places")};
  const double high = notes_height(notes, table.width(), 2.5) + 3.0;
  const Vec2 size{table.width(), table.total_height() + high};
  // Right above the title block, which leaves the rest to the overview.
  const Rect title = title_area(d);
  Vec2 corner{title.hi.x - 4.0 - size.x, title.hi.y + 4.0};
  if (!view_free(d, {corner, corner + size}, 2.0)) {
    const auto spot = free_spot(d, area, size);
    if (!spot) return false;
    corner = *spot;
  }
  add_notes(d, notes, corner + Vec2{0.0, size.y}, table.width(), 2.5);
  add_table(d, table, corner + Vec2{0.0, table.total_height()});
  return true;
}

}  // namespace

std::optional<Drawing> van_plan(const PageSet& set, PageSize page, double scale) {
  const Layout& layout = set.layout;
  std::vector<std::size_t> parts;
  Box box;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (layout.parts[i].kind == PartKind::hardware) continue;
    parts.push_back(i);
    box.add(bounds(layout.parts[i]));
  }
  if (parts.empty()) return std::nullopt;
  VanLine floor;
  VanLine wall;
  if (layout.vehicle) {
    floor = floor_outline(*layout.vehicle);
    wall = side_outline(*layout.vehicle);
  }
  for (const Vec2 p : floor) box.add(Vec3{p.x, p.y, 0.0});
  for (const Vec2 p : wall) box.add(Vec3{p.x, 0.0, p.y});

  TitleBlock block = title_block(set);
  block.title = layout.project.title.empty() ? layout.project.name : layout.project.title;
  block.subtitle = layout.vehicle ? layout.vehicle->title : "";
  block.number = document_number(set, "plan");
  block.type = say("document.arrangement");
  block.mass = mass_text(mass_summary(layout).mass_kg);
  block.scale = scale_text(scale);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);

  const ViewFrame elevation{{1, 0, 0}, {0, 0, 1}};
  const ViewFrame plan{{1, 0, 0}, {0, 1, 0}};
  const Rect front = seen_box(box, elevation);
  const Rect top = seen_box(box, plan);
  const DimensionStyle style{.height = 2.5,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  // Where the modules stand is told by name, in a table.
  const AxisPlan along{ViewSide::bottom, top.lo.x, top.hi.x, true, {}};
  const AxisPlan width{ViewSide::left, top.lo.y, top.hi.y, true, {}};
  const AxisPlan height{ViewSide::left, front.lo.y, front.hi.y, true, {}};
  const bool first_angle = layout.project.first_angle;
  const double left = area.lo.x + depth_of(width, style) + 8.0;
  const double head = area.hi.y - 6.0;
  // The elevation is the front view: the plan lies below it in first angle, above it in third
  // angle.
  const double gap = 12.0;
  const double low = head - (front.height() + top.height()) * scale - gap -
                     (first_angle ? 0.0 : depth_of(along, style));
  ViewPlace plan_place = place_view(
      top, scale,
      {left, first_angle ? low : low + front.height() * scale + gap + depth_of(along, style)});
  ViewPlace front_place =
      place_view(front, scale, {left, first_angle ? low + top.height() * scale + gap : low});
  for (ViewPlace* place : {&plan_place, &front_place}) {
    if (!is_free(d, place->outline, 2.0)) return std::nullopt;
    *place = open_view(d, *place);
  }

  const SceneBodies scene = scene_of(layout, parts, scale);
  const std::vector<int> owners = owners_of(d, layout, scene);
  const DrawnOptions options{.shortest = 0.3 / scale};
  add_view(d, visible_lines(scene.bodies, plan, options), plan_place, kGroup35.visible(),
           kGroup35.hidden(), owners);
  add_view(d, visible_lines(scene.bodies, elevation, options), front_place, kGroup35.visible(),
           kGroup35.hidden(), owners);
  draw_line(d, plan_place, floor, kGroup35.context());
  draw_line(d, front_place, wall, kGroup35.context());
  if (layout.vehicle) draw_arches(d, plan_place, *layout.vehicle);
  if (!add_axis_dimensions(d, plan_place, {along, width}, style)) return std::nullopt;
  if (!add_axis_dimensions(d, front_place, {height}, style)) return std::nullopt;
  add_forward(d, {plan_place.outline.lo, plan_place.outline.hi + Vec2{0, 11.0}});
  if (!add_module_names(d, layout, plan_place, front_place.outline)) return std::nullopt;
  if (!add_places(d, layout, area)) return std::nullopt;
  add_overview(d, layout, parts, scale, area);
  return d;
}

}  // namespace ribbay::detail

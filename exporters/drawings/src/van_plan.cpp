#include "assembly_drawing.hpp"
#include "scene.hpp"
#include "views.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

/// A polyline of the vehicle, in van coordinates of one view.
using Line = std::vector<Vec2>;

/// The inside of the room at the floor, seen from above: up the left wall, back along the right
/// one.
Line floor_outline(const Vehicle& van) {
  Line line;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) line.push_back({s.x, s.left.front().half_width});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    if (!s->right.empty()) line.push_back({s->x, -s->right.front().half_width});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

/// Floor, bulkhead, roof and rear end, seen from the side.
Line side_outline(const Vehicle& van) {
  Line line;
  double floor = 0.0;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) floor = s.left.front().z;
    line.push_back({s.x, floor});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    double roof = -std::numeric_limits<double>::infinity();
    for (const WallPoint& p : s->left) roof = std::max(roof, p.z);
    for (const WallPoint& p : s->right) roof = std::max(roof, p.z);
    if (std::isfinite(roof)) line.push_back({s->x, roof});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

Line rectangle_line(Vec2 lo, Vec2 hi) {
  return {lo, {hi.x, lo.y}, hi, {lo.x, hi.y}, lo};
}

void draw(Drawing& d, const ViewPlace& place, const Line& line, Pen pen) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    add_line(d, {place.x.paper(line[i - 1].x), place.y.paper(line[i - 1].y)},
             {place.x.paper(line[i].x), place.y.paper(line[i].y)}, pen);
  }
}

/// An arrow that says where the van drives, in the front upper corner of the plan.
void add_forward(Drawing& d, const Rect& plan) {
  const Vec2 tip = plan.hi - Vec2{6.0, 8.0};
  const Rect box{tip - Vec2{24.0, 1.5}, tip + Vec2{1.0, 5.0}};
  if (!is_free(d, box, 1.0)) return;
  add_line(d, tip - Vec2{22.0, 0.0}, tip, kGroup35.thin());
  add_arrow(d, tip, {1, 0});
  add_text(d, "FORWARD", tip + Vec2{-12.0, 1.2}, 2.5, Align::centre);
}

/// Positions of the modules' ends along the van, without those at its own ends.
std::vector<double> module_ends(const Layout& layout, const Rect& picture, std::size_t most) {
  std::vector<double> ends;
  for (const Module& m : layout.modules) {
    for (const double x : {m.envelope.lo.x, m.envelope.hi.x}) {
      if (x > picture.lo.x + 0.5 && x < picture.hi.x - 0.5) ends.push_back(x);
    }
  }
  std::ranges::sort(ends);
  ends.erase(std::unique(ends.begin(), ends.end(), [](double a, double b) { return b - a < 0.5; }),
             ends.end());
  if (ends.size() > most) ends.resize(most);
  return ends;
}

/// Everything in the van from the front left above, as large as the free room allows; nothing when
/// there is none.
void add_overview(Drawing& d, const Layout& layout, const std::vector<std::size_t>& parts,
                  double largest, const Rect& area) {
  Box box;
  for (const std::size_t i : parts) box.add(bounds(layout.parts[i]));
  const ViewFrame view = looks_at("left", layout.project.first_angle).isometric;
  const Rect picture = seen_box(box, view);
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
    add_text(d, "Isometric view " + scale_text(scale), {place.outline.centre().x, spot->y + 1.5},
             3.5, Align::centre);
    return;
  }
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
  Line floor;
  Line wall;
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
  block.type = "Arrangement drawing";
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
  const auto most = static_cast<std::size_t>(top.width() * scale / 4.2);
  const AxisPlan along{ViewSide::bottom, top.lo.x, top.hi.x, true, module_ends(layout, top, most)};
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
  draw(d, plan_place, floor, kGroup35.context());
  draw(d, front_place, wall, kGroup35.context());
  if (layout.vehicle) {
    for (const WheelArch& arch : layout.vehicle->arches) {
      double outer = 0.0;
      for (const Vec2 p : floor) outer = std::max(outer, std::abs(p.y));
      const double sign = arch.side == VanSide::left ? 1.0 : -1.0;
      const double y0 = std::min(sign * arch.half_width, sign * outer);
      const double y1 = std::max(sign * arch.half_width, sign * outer);
      draw(d, plan_place, rectangle_line({arch.from, y0}, {arch.to, y1}), kGroup35.context());
    }
  }
  if (!add_axis_dimensions(d, plan_place, {along, width}, style)) return std::nullopt;
  if (!add_axis_dimensions(d, front_place, {height}, style)) return std::nullopt;
  add_forward(d, plan_place.outline);
  // A name must not cover the spot that another one points at.
  std::vector<Rect> avoid{front_place.outline};
  std::vector<std::pair<Vec2, std::string>> names;
  for (const Module& m : layout.modules) {
    const Vec2 at{plan_place.x.paper(m.envelope.centre().x),
                  plan_place.y.paper(m.envelope.centre().y)};
    if (!inside({at, at}, plan_place.outline)) continue;
    names.emplace_back(at, m.title.empty() ? m.name : m.title);
    avoid.push_back(grown({at, at}, 2.0));
  }
  for (const auto& [at, text] : names) {
    if (!add_callout(d, at, text, 3.5, kGroup35.thin(), avoid, true)) return std::nullopt;
  }
  add_overview(d, layout, parts, scale, area);
  return d;
}

}  // namespace ribbay::detail

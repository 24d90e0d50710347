#include "assembly_drawing.hpp"

#include "balloons.hpp"
#include "base/tolerance.hpp"
#include "drawings/lettering.hpp"
#include "lists.hpp"
#include "module_contents.hpp"
#include "scene.hpp"
#include "views.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;
constexpr double kSameStation = 0.5;  // positions closer than this print as one, mm
constexpr std::size_t kMostStations = 10;

/// Positions relative to `origin`, without what lies at or beyond the ends.
AxisPlan axis_plan(ViewSide side, const Rect& picture, bool horizontal,
                   const std::vector<double>& at) {
  const double lo = horizontal ? picture.lo.x : picture.lo.y;
  const double hi = horizontal ? picture.hi.x : picture.hi.y;
  AxisPlan plan{side, lo, hi, true, {}};
  for (const double p : at) {
    if (p > lo + kSameStation && p < hi - kSameStation) plan.positions.push_back(p);
  }
  return plan;
}

/// One isometric view of `parts`, with balloons on those whose mark is in `wanted`; takes the marks
/// that it shows out of `wanted`. Nothing is drawn, and false returned, when there is no room.
bool add_isometric(Drawing& d, const PageSet& set, const Box& box,
                   const std::vector<std::size_t>& parts, const ViewFrame& view, double scale,
                   const Rect& area, const std::string& title, std::set<std::string>& wanted) {
  const auto marks = marks_of(set);
  const SceneBodies scene = scene_of(set.layout, parts, scale);
  std::vector<std::pair<std::string, Vec2>> seen;
  std::set<std::string> shown;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    const auto mark = marks.find(scene.part[b]);
    if (mark == marks.end() || !wanted.contains(mark->second) || shown.contains(mark->second))
      continue;
    const auto point = seen_point(scene.bodies, b, view);
    if (!point) continue;
    shown.insert(mark->second);
    seen.emplace_back(mark->second, *point);
  }
  if (seen.empty()) return false;
  const Rect picture = seen_box(box, view);
  const double column = std::ceil(static_cast<double>(seen.size()) / 2.0) * kBalloonPitch;
  const double height = std::max(picture.height() * scale, column);
  const double foot = 8.0;  // for the title
  const auto spot =
      free_spot(d, area, {picture.width() * scale + 2 * kBalloonRoom, height + foot + 2.0});
  if (!spot) return false;
  const Vec2 corner = *spot + Vec2{kBalloonRoom, foot + (height - picture.height() * scale) / 2};
  const ViewPlace place = place_view(picture, scale, corner);
  std::vector<Balloon> balloons;
  for (const auto& [mark, at] : seen)
    balloons.push_back({mark, {place.x.paper(at.x), place.y.paper(at.y)}});
  Drawing trial = d;
  if (!add_balloons(trial, place.outline, balloons, spot->y + foot, spot->y + foot + height,
                    kGroup35.thin())) {
    return false;
  }
  add_view(trial, visible_lines(scene.bodies, view, {.shortest = 0.3 / scale}), place,
           kGroup35.visible(), kGroup35.hidden(), owners_of(trial, set.layout, scene));
  add_text(trial, title + " " + scale_text(scale), {place.outline.centre().x, spot->y + 1.5}, 3.5,
           Align::centre);
  d = std::move(trial);
  for (const std::string& mark : shown) wanted.erase(mark);
  return true;
}

/// Isometric views until every mark has its balloon: the first of the whole module, each further
/// one without the panels that the ones before have shown. Returns the marks that none shows.
std::optional<std::set<std::string>> add_isometrics(Drawing& d, const PageSet& set,
                                                    const ModuleContents& contents,
                                                    const ViewFrame& view, double largest,
                                                    const Rect& area) {
  const auto marks = marks_of(set);
  std::set<std::string> wanted;
  for (const std::size_t i : contents.made) {
    if (marks.contains(i)) wanted.insert(marks.at(i));
  }
  std::vector<std::size_t> parts = contents.made;
  std::string title = "Isometric view";
  for (bool first = true; !wanted.empty(); first = false) {
    const std::set<std::string> before = wanted;
    bool placed = false;
    for (int smaller = 0; smaller < 3 && !placed; ++smaller) {
      placed = add_isometric(d, set, contents.box, parts, view, smaller_scale(largest, smaller),
                             area, title, wanted);
    }
    if (!placed) return first ? std::nullopt : std::optional(wanted);
    title = first ? "Outer panels left out" : "Further panels left out";
    std::erase_if(parts, [&](std::size_t i) {
      // Members stay: they show where the rest belongs.
      const bool shown =
          marks.contains(i) && before.contains(marks.at(i)) && !wanted.contains(marks.at(i));
      return set.layout.parts[i].kind == PartKind::hardware ||
             (shown && set.layout.parts[i].kind == PartKind::panel);
    });
  }
  return wanted;
}

/// Parts that no view shows: their outlines in the front view, dashed, each with its balloon.
bool add_hidden_parts(Drawing& d, const PageSet& set, const ModuleContents& contents,
                      const std::set<std::string>& missing, const ViewFrame& view,
                      const ViewPlace& place, double scale) {
  const auto marks = marks_of(set);
  for (const std::string& mark : missing) {
    const auto part = std::ranges::find_if(
        contents.made, [&](std::size_t i) { return marks.contains(i) && marks.at(i) == mark; });
    const SceneBodies scene = scene_of(set.layout, {*part}, scale);
    const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});
    add_view(d, drawn, place, kGroup35.hidden(), kGroup35.hidden(),
             owners_of(d, set.layout, scene));
    // On its outline: inside it, the dot would seem to point at what lies in front.
    const DrawnLine* longest = nullptr;
    for (const DrawnLine& l : drawn.lines) {
      if (longest == nullptr || length(l.b - l.a) > length(longest->b - longest->a) + kSame)
        longest = &l;
    }
    if (longest == nullptr) continue;
    const Vec2 middle = longest->a + (longest->b - longest->a) * 0.37;
    if (!add_balloon(d, {mark, {place.x.paper(middle.x), place.y.paper(middle.y)}}, place.outline,
                     kGroup35.thin()))
      return false;
  }
  return true;
}

}  // namespace

std::optional<Drawing> assembly_drawing(const PageSet& set, const Module& module, PageSize page,
                                        double scale, bool lists) {
  const Layout& layout = set.layout;
  const ModuleContents contents = contents_of(layout, module);
  if (contents.box.empty()) return std::nullopt;
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = layout.project.title;
  block.number = document_number(set, module.name);
  block.type = "Assembly drawing";
  block.material = "see parts list";
  block.stock = "see parts list";
  block.finish = "see parts list";
  double mass = 0.0;
  for (const std::size_t i : contents.made) mass += layout.parts[i].mass_kg;
  block.mass = mass_text(mass);
  block.quantity = "1";
  block.scale = scale_text(scale);
  block.sheet = lists ? "1/1" : "1/" + std::to_string(list_pages(set, module).size() + 1);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);

  if (lists) {
    Table parts = parts_list(set, module);
    parts.upwards = true;
    double foot = title_area(d).hi.y;
    for (Table table : {parts, bought_list(set, module)}) {
      if (table.rows.empty()) continue;
      const Rect box{{title_area(d).lo.x, foot}, {title_area(d).hi.x, foot + table.total_height()}};
      if (box.hi.y > area.hi.y) return std::nullopt;
      add_table(d, table, {box.lo.x, box.hi.y});
      d.reserved.push_back(box);
      foot = box.hi.y + 4.0;
    }
  }

  // The three views by the projection method; see looks_at().
  const bool first_angle = layout.project.first_angle;
  const Looks looks = looks_at(module.front, first_angle);
  const Rect front = seen_box(contents.box, looks.front);
  const Rect top = seen_box(contents.box, looks.top);
  const Rect side = seen_box(contents.box, looks.side);
  const DimensionStyle style{.height = kLetters,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  const auto most = [&](double size) {
    return std::min(kMostStations, static_cast<std::size_t>(size * scale / (kLetters + 1.6)));
  };
  const Vec3 depth = looks.front.towards_eye();
  const AxisPlan across = axis_plan(
      ViewSide::bottom, front, true,
      stations(layout, contents, looks.front.right, depth, Edge::lower, most(front.width())));
  const AxisPlan up =
      axis_plan(ViewSide::left, front, false,
                stations(layout, contents, {0, 0, 1}, depth, Edge::upper, most(front.height())));
  const AxisPlan deep =
      axis_plan(ViewSide::bottom, side, true,
                stations(layout, contents, looks.side.right, looks.side.towards_eye(), Edge::lower,
                         most(side.width())));

  struct {
    ViewPlace front, top, side;
  } v;
  const double gap = 20.0;
  const double left = area.lo.x + depth_of(up, style) + 8.0;
  const double below_front = depth_of(across, style) + 8.0;
  const double head = area.hi.y - 12.0;
  const double front_top = first_angle ? head : head - top.height() * scale - gap;
  const Vec2 front_corner{left, front_top - front.height() * scale};
  v.front = place_view(front, scale, front_corner);
  v.side = place_view(side, scale, {v.front.outline.hi.x + gap + 4.0, front_corner.y});
  v.top = place_view(
      top, scale,
      {left, first_angle ? front_corner.y - below_front - top.height() * scale : front_top + gap});
  for (const ViewPlace* place : {&v.front, &v.side, &v.top}) {
    if (!is_free(d, place->outline, 4.0)) return std::nullopt;
  }

  // What stays is drawn as seen; drawers, doors and equipment before or behind it as outlines for
  // context.
  std::vector<std::size_t> context = contents.movable;
  context.insert(context.end(), contents.equipment.begin(), contents.equipment.end());
  const SceneBodies fixed = scene_of(layout, contents.fixed, scale);
  const SceneBodies moving = scene_of(layout, context, scale);
  const std::vector<int> fixed_owners = owners_of(d, layout, fixed);
  const std::vector<int> moving_owners = owners_of(d, layout, moving);
  for (const auto& [frame, place] :
       {std::pair{looks.front, v.front}, {looks.top, v.top}, {looks.side, v.side}}) {
    const DrawnOptions options{.shortest = 0.3 / scale};
    add_view(d, visible_lines(fixed.bodies, frame, options), place, kGroup35.visible(),
             kGroup35.hidden(), fixed_owners);
    add_view(d, visible_lines(moving.bodies, frame, options), place, kGroup35.context(),
             kGroup35.context(), moving_owners);
  }
  if (!add_axis_dimensions(d, v.front, {across, up}, style)) return std::nullopt;
  if (!add_axis_dimensions(d, v.side, {deep}, style)) return std::nullopt;

  const auto missing = add_isometrics(d, set, contents, looks.isometric, scale, area);
  if (!missing) return std::nullopt;
  if (!add_hidden_parts(d, set, contents, *missing, looks.front, v.front, scale))
    return std::nullopt;
  return d;
}

}  // namespace ribbay::detail

#include "steps/step_drawing.hpp"

#include "assembly/words.hpp"
#include "balloons.hpp"
#include "scene.hpp"
#include "steps/looks.hpp"
#include "views.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kFoot = 6.0;  // between the picture and what stands under it, on paper

/// What a step says beside its picture, a row for each thing to lay in or to drive.
Table step_table(const PageSet& set, const AssemblyUnit& unit, const ApartGroup& group) {
  const Names names(set.layout);
  Table table;
  table.columns = {
      {"Step", 11, Align::right}, {"Ref", 11}, {"What", 54}, {"Moves", 22}, {"With it", 82}};
  for (const ApartStep& apart : group.steps) {
    const AssemblyStep& step = unit.steps[apart.step];
    std::vector<std::string> with;
    if (step.mass_kg > kOnePersonLifts)
      with.push_back(rounded_text(step.mass_kg, 0) + " kg: " + people(step.mass_kg));
    std::size_t nuts = 0;
    for (const NutRun& run : step.nuts) nuts += run.nuts.size();
    if (nuts > 0)
      with.push_back("first " + std::to_string(nuts) + " slot nuts into it, see assembly.txt");
    for (const std::string& text : names.counted(step.hardware)) with.push_back("lay in " + text);
    for (const std::string& text : names.counted(ids_of(step.fasteners)))
      with.push_back("drive " + text);
    const auto tooling = tools(step.fasteners);
    for (const std::string& text : tooling) with.push_back("with " + text);
    if (!step.held) {
      // In two rows: one would be cut short.
      const std::string text = holding(set.layout, step);
      const auto middle = text.find(": ");
      with.push_back(text.substr(0, middle + 1));
      with.push_back(text.substr(middle + 2));
    }
    if (with.empty()) with.emplace_back();
    const Part* part = set.layout.find(step.parts.front());
    const bool one = step.parts.size() == 1;
    for (const std::string& text : with) {
      const bool first = &text == &with.front();
      table.rows.push_back(
          {first ? std::to_string(apart.step + 1) : "", first && one ? names.mark(part->id) : "",
           first ? (one ? part->title : step.title) : "",
           first ? (step.straight ? way_text(step.direction) : "tilt it in") : "", text});
    }
  }
  return table;
}

/// A line from a thing to its place, as a body of edges alone: what stands before it hides it.
Facets trace(Vec3 from, Vec3 to, Vec3 eye) {
  Facets line;
  line.edges.push_back({from, to, eye, eye, false, -1});
  return line;
}

/// Where the traces of a thing begin: two towards the ends of what is long, else one.
std::vector<Vec3> trace_ends(const ApartStep& step) {
  const Vec3 way = normalized(step.shift);
  const Vec3 size = step.box.size();
  int longest = 0;
  for (int axis = 1; axis < 3; ++axis) {
    if (size[axis] * (1.0 - std::abs(way[axis])) > size[longest] * (1.0 - std::abs(way[longest])))
      longest = axis;
  }
  const Vec3 centre = step.box.centre();
  if (size[longest] * (1.0 - std::abs(way[longest])) < 120.0) return {centre};
  Vec3 off;
  off[longest] = size[longest] * 0.4;
  return {centre - off, centre + off};
}

/// All bodies of the picture: standing ones first, then those of each step, then the traces.
struct StepScene {
  SceneBodies bodies;
  std::vector<std::size_t> first;  ///< body of each step, and of the traces
};

StepScene scene_of(const Layout& layout, const ApartGroup& group, Vec3 eye, double scale) {
  StepScene scene;
  scene.bodies = detail::scene_of(layout, group.standing, scale);
  for (const ApartStep& step : group.steps) {
    scene.first.push_back(scene.bodies.bodies.size());
    std::vector<PlacedPart> placed;
    for (const std::size_t i : step.parts) {
      Frame frame = layout.parts[i].frame;
      frame.origin = frame.origin + step.shift;
      placed.push_back({i, frame});
    }
    SceneBodies more = detail::scene_of(layout, placed, scale);
    std::ranges::move(more.bodies, std::back_inserter(scene.bodies.bodies));
    std::ranges::copy(more.part, std::back_inserter(scene.bodies.part));
  }
  scene.first.push_back(scene.bodies.bodies.size());
  for (const ApartStep& step : group.steps) {
    if (length(step.shift) < 1.0) continue;
    for (const Vec3 from : trace_ends(step)) {
      scene.bodies.bodies.push_back(trace(from, from - step.shift, eye));
      scene.bodies.part.push_back(step.parts.front());
    }
  }
  return scene;
}

/// Where the balloon of each step points, as far as it is in sight.
std::vector<std::optional<Vec2>> seen_points(const StepScene& scene, const ViewFrame& view) {
  std::vector<std::optional<Vec2>> points;
  for (std::size_t i = 0; i + 1 < scene.first.size(); ++i) {
    std::optional<Vec2> point;
    for (std::size_t b = scene.first[i]; b < scene.first[i + 1] && !point; ++b)
      point = seen_point(scene.bodies.bodies, b, view);
    points.push_back(point);
  }
  return points;
}

Drawn only(const Drawn& drawn, std::size_t from, std::size_t to) {
  const auto within = [&](const auto& ink) {
    return static_cast<std::size_t>(ink.body) >= from && static_cast<std::size_t>(ink.body) < to;
  };
  Drawn out;
  std::ranges::copy_if(drawn.lines, std::back_inserter(out.lines), within);
  std::ranges::copy_if(drawn.arcs, std::back_inserter(out.arcs), within);
  return out;
}

/// The way to look, out of four, that shows most of the steps; the module's own wins a draw.
ViewFrame best_look(const PageSet& set, const AssemblyUnit& unit, const ApartGroup& group,
                    double scale) {
  const Module* module = set.layout.module(unit.module);
  std::vector<ViewFrame> looks{
      looks_at(module != nullptr ? module->front : "rear", set.layout.project.first_angle).isometric};
  for (const Vec3 eye : upper_corners()) looks.push_back(isometric(eye));
  const StepScene scene = scene_of(set.layout, group, {}, scale);
  std::ptrdiff_t most = -1;
  ViewFrame best;
  for (const ViewFrame& look : looks) {
    const auto points = seen_points(scene, look);
    const auto seen = std::ranges::count_if(points, [](const auto& p) { return p.has_value(); });
    if (seen <= most) continue;
    most = seen;
    best = look;
    if (seen == std::ssize(points)) break;
  }
  return best;
}

}  // namespace

std::optional<Drawing> step_drawing(const PageSet& set, const AssemblyPlan& plan,
                                    const ApartGroup& group, const std::string& page_text,
                                    PageSize page, double scale) {
  const AssemblyUnit& unit = plan.units[group.unit];
  const ViewFrame view = best_look(set, unit, group, scale);
  const StepScene scene = scene_of(set.layout, group, view.towards_eye(), scale);
  const Drawn drawn = visible_lines(scene.bodies.bodies, view, {.shortest = 0.3 / scale});
  const Rect picture = bounds_of(drawn);

  TitleBlock block = title_block(set);
  block.title = unit.title;
  block.subtitle = "Steps " + std::to_string(group.steps.front().step + 1) + " to " +
                   std::to_string(group.steps.back().step + 1) + " of " +
                   std::to_string(unit.steps.size()) +
                   (unit.bench ? ", on the bench" : ", in its place in the van");
  block.number = document_number(set, page_text);
  block.type = "Order of assembly";
  block.material = block.stock = block.finish = "see parts list";
  block.scale = scale_text(scale);
  block.quantity = "1";
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const Table table = step_table(set, unit, group);
  const Rect title = title_area(d);
  const double head = title.hi.y + table.total_height();
  if (head > area.hi.y) return std::nullopt;

  // Over the table, or beside it.
  const Vec2 size{picture.width() * scale + 2 * kBalloonRoom, picture.height() * scale};
  const Rect over{{area.lo.x + 4.0, head + kFoot}, area.hi - Vec2{4.0, 6.0}};
  const Rect beside{area.lo + Vec2{4.0, 6.0}, {title.lo.x - 4.0, area.hi.y - 6.0}};
  const auto fits = [&](const Rect& r) { return size.x <= r.width() && size.y <= r.height(); };
  if (!fits(over) && !fits(beside)) return std::nullopt;
  const Rect& room = fits(over) ? over : beside;
  add_table(d, table, {title.lo.x, head});
  d.reserved.push_back({{title.lo.x, title.hi.y}, {title.hi.x, head}});

  const Vec2 corner = room.centre() - Vec2{picture.width(), picture.height()} * (scale / 2);
  const ViewPlace place = open_view(d, place_view(picture, scale, corner));
  const auto points = seen_points(scene, view);
  std::vector<Balloon> balloons;
  for (std::size_t i = 0; i < group.steps.size(); ++i) {
    const Vec2 at = points[i].value_or(view.picture(group.steps[i].box.centre()));
    balloons.push_back({std::to_string(group.steps[i].step + 1),
                        {place.x.paper(at.x), place.y.paper(at.y)}});
  }
  if (!add_balloons(d, place.outline, balloons, room.lo.y, room.hi.y, kGroup35.thin()))
    return std::nullopt;
  const std::vector<int> owners = owners_of(d, set.layout, scene.bodies);
  const std::size_t apart = scene.first.front();
  const std::size_t traces = scene.first.back();
  const Pen narrow = kGroup35.thin();
  add_view(d, only(drawn, 0, apart), place, narrow, narrow, owners);
  add_view(d, only(drawn, apart, traces), place, kGroup35.visible(), narrow, owners);
  add_view(d, only(drawn, traces, scene.bodies.bodies.size()), place, kGroup35.centre(),
           kGroup35.centre(), owners);
  return d;
}

}  // namespace ribbay::detail

#include "steps/step_drawing.hpp"

#include "assembly/words.hpp"
#include "balloons.hpp"
#include "base/wording.hpp"
#include "drawings/views.hpp"
#include "module_contents.hpp"
#include "scene.hpp"
#include "steps/looks.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kLookScale = 0.1;  // small features do not matter to where one looks from
constexpr double kFoot = 6.0;       // between the picture and what stands under it, on paper

/// What there is to do about a step, in the order of doing it.
std::vector<std::string> doings(const Layout& layout, const Names& names,
                                const AssemblyStep& step) {
  std::vector<std::string> all;
  if (const auto heavy = lift(layout, carried(step)))
    all.push_back(
        say("step.heavy", {{"mass", rounded_text(step.mass_kg, 0)}, {"people", people(heavy)}}));
  std::size_t nuts = 0;
  for (const NutRun& run : step.nuts) nuts += run.nuts.size();
  if (nuts > 0) all.push_back(say("step.nuts", {{"count", std::to_string(nuts)}}));
  for (const std::string& text : names.counted(step.hardware))
    all.push_back(say("step.lay_in", {{"what", text}}));
  for (const std::string& text : names.counted(ids_of(step.fasteners)))
    all.push_back(say("step.drive", {{"what", text}}));
  for (const std::string& text : tools(step.fasteners))
    all.push_back(say("step.with", {{"what", text}}));
  if (!step.held) all.push_back(holding(layout, step));
  if (layout.find(step.parts.front())->kind == PartKind::equipment)
    all.push_back(say("step.licensed"));
  return all;
}

/// The steps of a picture as a table; what is long takes several rows.
Table step_table(const PageSet& set, const AssemblyUnit& unit, const ApartGroup& group) {
  const Names names(set.layout, set.types);
  const Module* module = set.layout.module(unit.module);
  const auto bought = module != nullptr ? bought_references(set.layout, *module)
                                        : std::map<std::string, std::string>();
  Table table;
  table.columns = {{say("column.step"), 11, Align::right},
                   {say("column.ref"), 11},
                   {say("column.what"), 54},
                   {say("column.moves"), 22},
                   {say("column.with_it"), 82}};
  const auto lines = [&](const std::vector<std::string>& texts, std::size_t column) {
    return wrapped(texts, table.columns[column].width - 2.4, table.height);
  };
  for (const ApartStep& apart : group.steps) {
    const AssemblyStep& step = unit.steps[apart.step];
    const Part* part = set.layout.find(step.parts.front());
    const bool one = step.parts.size() == 1;
    const auto reference = bought.find(part->stock.key);
    const std::string ref = !one                                            ? std::string()
                            : is_bought(*part) && reference != bought.end() ? reference->second
                                                                            : names.mark(part->id);
    const auto what = lines({one ? part->title : step.title}, 2);
    const auto with = lines(doings(set.layout, names, step), 4);
    for (std::size_t i = 0; i < std::max(what.size(), with.size()); ++i) {
      const bool first = i == 0;
      table.rows.push_back({first ? std::to_string(apart.step + 1) : "", first ? ref : "",
                            i < what.size() ? what[i] : "",
                            !first          ? ""
                            : step.straight ? way_text(step.direction)
                                            : say("step.tilt"),
                            i < with.size() ? with[i] : ""});
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

/// Extent of the picture by the boxes of what it shows: never less than it is.
Vec2 rough_size(const Layout& layout, const ApartGroup& group, const ViewFrame& view) {
  Rect all{{1e300, 1e300}, {-1e300, -1e300}};
  const auto add = [&](const Box& box) { all = united(all, seen_box(box, view)); };
  for (const std::size_t i : group.standing) add(bounds(layout.parts[i]));
  for (const ApartStep& step : group.steps) add(step.box);
  return {all.width(), all.height()};
}

}  // namespace

ViewFrame step_look(const PageSet& set, const AssemblyPlan& plan, const ApartGroup& group) {
  const Module* module = set.layout.module(plan.units[group.unit].module);
  std::vector<ViewFrame> looks{
      looks_at(module != nullptr ? module->front : "rear", set.layout.project.first_angle)
          .isometric};
  for (const Vec3 eye : upper_corners()) looks.push_back(isometric(eye));
  const StepScene scene = scene_of(set.layout, group, {}, kLookScale);
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

std::optional<Drawing> step_drawing(const PageSet& set, const AssemblyPlan& plan,
                                    const ApartGroup& group, const ViewFrame& view,
                                    const std::string& page_text, PageSize page, double scale) {
  const AssemblyUnit& unit = plan.units[group.unit];
  TitleBlock block = title_block(set);
  block.title = unit.title;
  block.subtitle = say(unit.bench ? "step.on_bench" : "step.in_van",
                       {{"from", std::to_string(group.steps.front().step + 1)},
                        {"to", std::to_string(group.steps.back().step + 1)},
                        {"all", std::to_string(unit.steps.size())}});
  block.number = document_number(set, page_text);
  block.type = say("document.steps");
  block.material = block.stock = block.finish = say("see_parts_list");
  block.scale = scale_text(scale);
  block.quantity = "1";
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const Table table = step_table(set, unit, group);
  const Rect title = title_area(d);
  const double head = title.hi.y + table.total_height();
  if (head > area.hi.y) return std::nullopt;

  const Rect over{{area.lo.x + 4.0, head + kFoot}, area.hi - Vec2{4.0, 6.0}};
  const Rect beside{area.lo + Vec2{4.0, 6.0}, {title.lo.x - 4.0, area.hi.y - 6.0}};
  // Boxes may be larger than what is in them, but not by that much: a quick no.
  const Vec2 rough = rough_size(set.layout, group, view) * (scale / 1.15);
  if ((rough.x > over.width() || rough.y > over.height()) &&
      (rough.x > beside.width() || rough.y > beside.height()))
    return std::nullopt;

  const StepScene scene = scene_of(set.layout, group, view.towards_eye(), scale);
  const Drawn drawn = visible_lines(scene.bodies.bodies, view, {.shortest = 0.3 / scale});
  const Rect picture = bounds_of(drawn);
  // Over the table, or beside it.
  const Vec2 size{picture.width() * scale + 2 * kBalloonRoom, picture.height() * scale};
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
    balloons.push_back(
        {std::to_string(group.steps[i].step + 1), {place.x.paper(at.x), place.y.paper(at.y)}});
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

#include "steps/step_drawing.hpp"

#include "assembly/doings.hpp"
#include "assembly/lifting.hpp"
#include "balloons.hpp"
#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "layout/front.hpp"
#include "module_contents.hpp"
#include "scene.hpp"
#include "steps/looks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace ribbay::detail {

namespace {

constexpr double kLookScale = 0.1;  // small features do not matter to where one looks from
constexpr double kDotClear = 3.0;   // of a balloon's dot from every line, on paper
constexpr double kFoot = 6.0;       // between the picture and what stands under it, on paper

/// The steps of a picture as a table; what is long takes several rows.
class StepTable {
 public:
  StepTable(const PageSet& set, const AssemblyPlan& plan, const AssemblyUnit& unit)
      : set_(set),
        plan_(plan),
        unit_(unit),
        names_(set.layout, set.types),
        doings_(set.layout, names_, unit) {
    if (const Module* module = set.layout.module(unit.module))
      bought_ = bought_references(set.layout, *module);
    table_.columns = {{say("column.step"), 11, Align::right},
                      {say("column.ref"), 11},
                      {say("column.what"), 38},
                      {say("column.moves"), 24},
                      {say("column.with_it"), 96}};
  }

  Table of(const ApartGroup& group, const StepSheets& sheets) {
    add("", "", say("step.directions"), "", {doings_.ways_meant()});
    if (group.steps.front().step == 0 && !doings_.of_all().empty())
      add("", "", say("step.of_all"), "", doings_.of_all());
    add_steps(group, sheets);
    if (group.steps.back().step + 1 == unit_.steps.size() && !doings_.in_place().empty())
      add("", "", say("step.finish"), "", doings_.in_place());
    return std::move(table_);
  }

 private:
  /// What is told of a step.
  struct Told {
    std::string ref, what, moves;
    std::vector<std::string> with;
    friend bool operator==(const Told&, const Told&) = default;
  };

  /// Steps one after the other of which the same is told share their rows.
  void add_steps(const ApartGroup& group, const StepSheets& sheets) {
    std::vector<Told> all;
    for (const ApartStep& apart : group.steps) all.push_back(told_of(apart.step, sheets));
    for (std::size_t i = 0; i < group.steps.size();) {
      Told told = all[i];
      std::size_t last = i;
      while (last + 1 < group.steps.size() && all[last + 1] == told) ++last;
      std::string number = std::to_string(group.steps[i].step + 1);
      if (last > i) {
        number += "–" + std::to_string(group.steps[last].step + 1);
        told.with.insert(told.with.begin(), say("step.each"));
      }
      add(number, told.ref, told.what, told.moves, told.with);
      const std::size_t squared = doings_.squared_after();
      if (group.steps[i].step < squared && squared <= group.steps[last].step + 1) {
        if (const auto lines = doings_.squaring(plan_); !lines.empty())
          add("", "", say("step.squared"), "", lines);
      }
      i = last + 1;
    }
  }

  Told told_of(std::size_t index, const StepSheets& sheets) const {
    const AssemblyStep& step = unit_.steps[index];
    const Part* part = set_.layout.find(step.parts.front());
    const bool one = step.parts.size() == 1;
    const auto reference = bought_.find(part->stock.key);
    const std::string ref = !one ? std::string()
                            : is_bought(*part) && reference != bought_.end()
                                ? reference->second
                                : names_.mark(part->id);
    std::vector<std::string> lines;
    if (const std::string heavy = heavy_text(set_.layout, step); !heavy.empty())
      lines.push_back(heavy);
    // What comes as one from elsewhere shows neither its ends nor its weight.
    if (const auto heavy = lift(set_.layout, carried(step)); heavy && !one)
      std::ranges::move(doings_.carrying(*heavy), std::back_inserter(lines));
    if (const auto sheet = sheets.find(step.unit); sheet != sheets.end())
      lines.push_back(say("step.made_before", {{"sheets", sheet->second}}));
    std::ranges::move(doings_.before(step), std::back_inserter(lines));
    std::ranges::move(doings_.after(step), std::back_inserter(lines));
    return {ref, one ? part->title : step.title, doings_.comes(step), lines};
  }

  void add(const std::string& number, const std::string& ref, const std::string& what,
           const std::string& moves, const std::vector<std::string>& with) {
    const auto lines = [&](const std::vector<std::string>& texts, std::size_t column) {
      return wrapped(texts, table_.columns[column].width - 2.4, table_.height);
    };
    const std::array columns{lines({what}, 2), lines({moves}, 3), lines(with, 4)};
    const std::size_t rows =
        std::ranges::max(columns, {}, [](const auto& column) { return column.size(); }).size();
    for (std::size_t i = 0; i < rows; ++i) {
      std::vector<std::string> row{i == 0 ? number : "", i == 0 ? ref : ""};
      for (const auto& column : columns) row.push_back(i < column.size() ? column[i] : "");
      table_.rows.push_back(std::move(row));
    }
  }

  const PageSet& set_;
  const AssemblyPlan& plan_;
  const AssemblyUnit& unit_;
  Names names_;
  Doings doings_;
  std::map<std::string, std::string> bought_;
  Table table_;
};

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

/// Where the balloons' dots lie: well inside the things, where those are in sight.
std::vector<std::optional<Vec2>> dots(const Layout& layout, const StepScene& scene,
                                      const ViewFrame& view, const Drawn& drawn, double clear) {
  std::vector<std::optional<Vec2>> points = seen_points(scene, view);
  for (std::size_t i = 0; i < points.size(); ++i) {
    std::vector<std::size_t> made;
    for (std::size_t b = scene.first[i]; b < scene.first[i + 1]; ++b) {
      if (layout.parts[scene.bodies.part[b]].kind != PartKind::hardware) made.push_back(b);
    }
    const auto better = clear_point(scene.bodies.bodies, made, view, drawn, clear);
    if (better) points[i] = better;
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

/// Which way is which in the picture: an arrow along `way` over its word, on a free spot of the
/// room.
void add_way(Drawing& d, const ViewFrame& view, Vec3 way, const std::string& word,
             const Rect& room) {
  constexpr double letters = 3.5;
  constexpr double arrow = 18.0;
  const Vec2 run = view.picture(way) * arrow;
  const Vec2 size{std::max(std::abs(run.x), text_width(word, letters)),
                  std::abs(run.y) + letters + 3.0};
  const auto spot = free_spot(d, room, size);
  if (!spot) return;
  const Vec2 middle{spot->x + size.x / 2, spot->y + size.y - std::abs(run.y) / 2};
  add_line(d, middle - run * 0.5, middle + run * 0.5, kGroup35.thin());
  add_arrow(d, middle + run * 0.5, normalized(run));
  add_text(d, word, {middle.x, spot->y}, letters, Align::centre);
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

Table step_table(const PageSet& set, const AssemblyPlan& plan, const ApartGroup& group,
                 const StepSheets& sheets) {
  return StepTable(set, plan, plan.units[group.unit]).of(group, sheets);
}

std::optional<Drawing> step_drawing(const PageSet& set, const AssemblyPlan& plan,
                                    const ApartGroup& group, const ViewFrame& view,
                                    const Table& table, const std::string& page_text, PageSize page,
                                    double scale) {
  const AssemblyUnit& unit = plan.units[group.unit];
  TitleBlock block = title_block(set);
  block.title = unit.title;
  block.subtitle = unit.steps.size() == 1
                       ? say(unit.bench ? "step.one_on_bench" : "step.one_in_van")
                       : say(unit.bench ? "step.on_bench" : "step.in_van",
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
  const auto points = dots(set.layout, scene, view, drawn, kDotClear / scale);
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
  const Module* module = set.layout.module(unit.module);
  if (unit.bench && module != nullptr)
    add_way(d, view, front_way(module->front), say("way_front"), room);
  if (!unit.bench) add_way(d, view, front_way("front"), say("forward"), room);
  return d;
}

}  // namespace ribbay::detail

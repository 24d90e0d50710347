#include "assembly_views.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "open_parts.hpp"
#include "openings.hpp"
#include "position_marks.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;
constexpr double kSameStation = 0.5;       // positions closer than this print as one, mm
constexpr double kApart = kLetters + 1.6;  // values of running dimensions, on paper
constexpr double kBetween = 20.0;          // views, on paper

/// Positions between the ends of what is made, beside a view; those that find no room there stand
/// in a table.
struct Positions {
  AxisPlan plan;
  std::vector<double> tabled;
};

Positions positions(ViewSide side, const Rect& made, double scale, const std::vector<double>& at) {
  const bool horizontal = side == ViewSide::bottom;
  const double lo = horizontal ? made.lo.x : made.lo.y;
  const double hi = horizontal ? made.hi.x : made.hi.y;
  Positions out{{side, lo, hi, true, {}}, {}};
  for (const double p : at) {
    if (p > lo + kSameStation && p < hi - kSameStation) out.plan.positions.push_back(p);
  }
  // One or two stand as linear dimensions, which always find room.
  const auto count = out.plan.positions.size();
  if (count > 2 && static_cast<double>(count + 1) * kApart > (hi - lo) * scale)
    out.plan.positions.swap(out.tabled);
  return out;
}

/// What places the openings that a view shows, on the sides where no other sizes stand.
struct OpeningPlans {
  AxisPlan across;
  AxisPlan up;
  double depth_of_across(const DimensionStyle& style) const { return depth(across, style); }
  double depth_of_up(const DimensionStyle& style) const { return depth(up, style); }

 private:
  static double depth(const AxisPlan& plan, const DimensionStyle& style) {
    return plan.positions.empty() ? 0.0 : depth_of(plan, style);
  }
};

OpeningPlans opening_plans(const Layout& layout, const ModuleContents& contents,
                           const AssemblyView& view, ViewSide along, const Positions* across,
                           const Positions* up) {
  const auto known = [](const Positions* p) {
    std::vector<double> all;
    if (p == nullptr) return all;
    all = p->plan.positions;
    all.insert(all.end(), p->tabled.begin(), p->tabled.end());
    return all;
  };
  const OpeningPositions at =
      positions_of(openings_of(layout, contents, view.frame, view.fixed), known(across), known(up));
  return {{along, view.made.lo.x, view.made.hi.x, false, at.across},
          {ViewSide::right, view.made.lo.y, view.made.hi.y, false, at.up}};
}

/// A table of positions that found no room beside their view, which are marked there. False when it
/// finds none either.
bool add_positions(Drawing& d, const Positions& p, const ViewPlace& place, const std::string& title,
                   LengthStyle show, const Rect& area) {
  if (p.tabled.empty()) return true;
  if (!add_position_marks(d, place, p.plan.side, p.tabled, kGroup35.thin())) return false;
  Table table;
  table.columns = {{say("column.number"), 12, Align::right}, {title, 48, Align::right}};
  for (const double at : p.tabled) {
    table.rows.push_back(
        {std::to_string(table.rows.size() + 1), length_text(at - p.plan.datum, show)});
  }
  const auto spot = free_spot(d, area, {table.width(), table.total_height()});
  if (!spot) return false;
  add_table(d, table, *spot + Vec2{0, table.total_height()});
  d.reserved.push_back({*spot, *spot + Vec2{table.width(), table.total_height()}});
  return true;
}

/// Whether a motion's way lies in the plane of a view: slides seen from beside, turns along their
/// axis.
bool shows(const ViewFrame& view, const Motion& motion) {
  const double along = std::abs(dot(motion.axis, view.towards_eye()));
  return motion.kind == MotionKind::rotation ? along > 0.9 : along < 0.1;
}

AssemblyView view_of(const AssemblyViews& scenes, const std::vector<OpenPart>& opened,
                     const Box& box, const ViewFrame& frame, double scale) {
  const DrawnOptions options{.shortest = 0.3 / scale};
  AssemblyView view{.frame = frame,
                    .fixed = visible_lines(scenes.fixed.bodies, frame, options),
                    .context = visible_lines(scenes.context.bodies, frame, options),
                    .open = {},
                    .ink = {},
                    .made = seen_box(box, frame)};
  std::vector<Facets> shown;
  std::vector<int> from;  // index into scenes.open
  for (std::size_t i = 0; i < scenes.open.bodies.size(); ++i) {
    if (!shows(frame, *opened[i].motion)) continue;
    shown.push_back(scenes.open.bodies[i]);
    from.push_back(static_cast<int>(i));
  }
  view.open = visible_lines(shown, frame, options);
  for (DrawnLine& l : view.open.lines) l.body = from[static_cast<std::size_t>(l.body)];
  for (DrawnArc& a : view.open.arcs) a.body = from[static_cast<std::size_t>(a.body)];
  view.ink = view.made;
  for (const Drawn* drawn : {&view.fixed, &view.context, &view.open}) {
    if (drawn->lines.empty() && drawn->arcs.empty()) continue;
    view.ink = united(view.ink, bounds_of(*drawn));
  }
  return view;
}

bool add_openings(Drawing& d, const AssemblyView& view, const OpeningPlans& plans,
                  const DimensionStyle& style) {
  std::vector<AxisPlan> axes;
  for (const AxisPlan* plan : {&plans.across, &plans.up}) {
    if (!plan->positions.empty()) axes.push_back(*plan);
  }
  return axes.empty() || add_axis_dimensions(d, view.place, axes, style);
}

}  // namespace

AssemblyViews views_of(const Layout& layout, const Module& module, const ModuleContents& contents,
                       double scale) {
  AssemblyViews views;
  views.fixed = scene_of(layout, contents.fixed, scale);
  std::vector<std::size_t> context = contents.movable;
  context.insert(context.end(), contents.equipment.begin(), contents.equipment.end());
  views.context = scene_of(layout, context, scale);
  const std::vector<OpenPart> opened = open_parts(layout, contents);
  views.open = scene_of(layout, opened, scale);
  const Looks looks = looks_at(module.front, layout.project.first_angle);
  views.front = view_of(views, opened, contents.box, looks.front, scale);
  views.top = view_of(views, opened, contents.box, looks.top, scale);
  views.side = view_of(views, opened, contents.box, looks.side, scale);
  return views;
}

bool add_views(Drawing& d, const Layout& layout, const ModuleContents& contents,
               AssemblyViews& views, const Rect& area, double scale) {
  const DimensionStyle style{.height = kLetters,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  auto& [front, top, side, fixed, context, open] = views;
  const Vec3 depth = front.frame.towards_eye();
  const Positions across =
      positions(ViewSide::bottom, front.made, scale,
                stations(layout, contents, front.frame.right, depth, Edge::lower));
  const Positions up = positions(ViewSide::left, front.made, scale,
                                 stations(layout, contents, {0, 0, 1}, depth, Edge::upper));
  const Positions deep = positions(
      ViewSide::bottom, side.made, scale,
      stations(layout, contents, side.frame.right, side.frame.towards_eye(), Edge::lower));

  // Openings are placed on the sides that are still free.
  const bool first_angle = layout.project.first_angle;
  const OpeningPlans in_front = opening_plans(layout, contents, front, ViewSide::top, &across, &up);
  const OpeningPlans in_side = opening_plans(layout, contents, side, ViewSide::top, &deep, &up);
  const OpeningPlans in_top = opening_plans(
      layout, contents, top, first_angle ? ViewSide::bottom : ViewSide::top, &across, nullptr);
  const double above = std::max(in_front.depth_of_across(style), in_side.depth_of_across(style));
  const double beside = std::max(in_front.depth_of_up(style), in_top.depth_of_up(style));

  // The front view and the one from above share a left edge: where what they show begins at
  // different places, the one that begins further left sets it.
  const double left_most = std::min(front.ink.lo.x, top.ink.lo.x);
  const double right_most = std::max(front.ink.hi.x, top.ink.hi.x);
  const double low = std::min(front.ink.lo.y, side.ink.lo.y);
  const double high = std::max(front.ink.hi.y, side.ink.hi.y);
  const double left = area.lo.x + depth_of(up.plan, style) + 8.0;
  const double head = area.hi.y - 12.0 - (first_angle ? above : in_top.depth_of_across(style));
  const double row_top = first_angle ? head : head - top.ink.height() * scale - kBetween - above;
  const double row_foot = row_top - (high - low) * scale;
  const double below = std::max(depth_of(across.plan, style), depth_of(deep.plan, style)) + 8.0;
  const auto place = [&](AssemblyView& v, double x, double y) {
    v.place = place_view(v.ink, scale, {x, y});
    if (!view_free(d, v.place.outline, 4.0)) return false;
    v.place = open_view(d, v.place);
    return true;
  };
  const double right = left + (right_most - left_most) * scale + kBetween + 4.0 + beside;
  if (!place(front, left + (front.ink.lo.x - left_most) * scale,
             row_foot + (front.ink.lo.y - low) * scale) ||
      !place(side, right, row_foot + (side.ink.lo.y - low) * scale) ||
      !place(
          top, left + (top.ink.lo.x - left_most) * scale,
          first_angle ? row_foot - below - top.ink.height() * scale : row_top + above + kBetween)) {
    return false;
  }
  const std::vector<int> fixed_owners = owners_of(d, layout, fixed);
  const std::vector<int> context_owners = owners_of(d, layout, context);
  const std::vector<int> open_owners = owners_of(d, layout, open);
  for (const AssemblyView* v : {&front, &top, &side}) {
    add_view(d, v->fixed, v->place, kGroup35.visible(), kGroup35.hidden(), fixed_owners);
    add_view(d, v->context, v->place, kGroup35.context(), kGroup35.context(), context_owners);
    add_view(d, v->open, v->place, kGroup35.context(), kGroup35.context(), open_owners);
  }
  const LengthStyle show = layout.project.show;
  return add_axis_dimensions(d, front.place, {across.plan, up.plan}, style) &&
         add_axis_dimensions(d, side.place, {deep.plan}, style) &&
         add_openings(d, front, in_front, style) && add_openings(d, side, in_side, style) &&
         add_openings(d, top, in_top, style) &&
         add_positions(d, across, front.place, say("column.front_from_left"), show, area) &&
         add_positions(d, up, front.place, say("column.front_from_below"), show, area) &&
         add_positions(d, deep, side.place, say("column.side_from_left"), show, area);
}

}  // namespace ribbay::detail

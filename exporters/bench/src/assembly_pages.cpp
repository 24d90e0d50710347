#include "assembly/doings.hpp"
#include "assembly/torque.hpp"
#include "base/wording.hpp"
#include "drawings/dimension.hpp"
#include "drawings/views.hpp"
#include "print_page.hpp"
#include "sections.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay::detail {

namespace {

constexpr double kFrameWidth = 70.0;  // of the picture of a frame, at most
constexpr double kFrameHeight = 40.0;
constexpr double kWordsFrom = 95.0;  // beside it, unless it takes more

std::string step_text(const Layout& layout, const AssemblyStep& step, const Names& names,
                      const Doings& doings, int number) {
  std::string head = std::to_string(number) + ". ";
  head += step.parts.size() == 1 ? names.part(step.parts.front())
                                 : say("bench.put_together", {{"what", step.title}});
  head += ", " + doings.comes(step);
  if (const std::string heavy = heavy_text(layout, step); !heavy.empty()) head += ", " + heavy;
  std::vector<std::string> all{head};
  std::ranges::move(doings.before(step), std::back_inserter(all));
  std::ranges::move(doings.after(step), std::back_inserter(all));
  return join(all, "; ");
}

/// The frame, its two sizes and its diagonals, from the upper left corner of what is free.
void draw_frame(Drawing& d, Vec2 corner, const SquareCheck& check, LengthStyle show) {
  const DimensionStyle style{
      .height = kFigure, .first = 9.0, .pitch = 9.0, .pen = kBenchPens.thin(), .show = show};
  const AxisPlan across{ViewSide::bottom, 0.0, check.width, true, {}};
  const AxisPlan up{ViewSide::left, 0.0, check.height, true, {}};
  const double scale = std::min(kFrameWidth / check.width, kFrameHeight / check.height);
  const Vec2 lo = corner + Vec2{depth_of(up, style) + 4.0, -4.0 - check.height * scale};
  const ViewPlace place =
      open_view(d, place_view({{0, 0}, {check.width, check.height}}, scale, lo));
  const Rect r = place.outline;
  const auto draw = [&](Vec2 a, Vec2 b, Pen pen) {
    d.lines.push_back({a, b, pen, -1, false, place.view});
  };
  const Vec2 corners[] = {r.lo, {r.hi.x, r.lo.y}, r.hi, {r.lo.x, r.hi.y}};
  for (int i = 0; i < 4; ++i) draw(corners[i], corners[(i + 1) % 4], kBenchPens.visible());
  draw(corners[0], corners[2], kBenchPens.thin());
  draw(corners[1], corners[3], kBenchPens.thin());
  add_axis_dimensions(d, place, {across, up}, style);
}

/// The frame with its diagonals; their length stands in brackets, since it follows from the sides.
/// A size that finds no room between its arrows stands beyond them: how far is seen by drawing it.
void add_square(Pager& pages, const SquareCheck& check, LengthStyle show) {
  Drawing scratch = pages.blank();
  draw_frame(scratch, {pages.left(), pages.top()}, check, show);
  const Rect ink = inked_since(scratch, pages.blank());
  const double height = std::max(pages.top() - ink.lo.y + 4.0, 46.0);
  pages.need(height);
  Drawing& d = pages.page();
  draw_frame(d, {pages.left(), pages.y()}, check, show);
  const double x = std::max(ink.hi.x + 8.0, pages.left() + kWordsFrom);
  add_notes(d, {say("bench.square", {{"view", check.view}})}, {x, pages.y() - 2.0},
            d.frame.hi.x - x, kWord);
  for (int i = 0; i < 2; ++i) {
    const double foot = pages.y() - 28.0 - kRow * 1.4 * i;
    add_tick(d, {x, foot});
    add_text(d, "(" + length_text(check.diagonal, show) + ")", {x + kTick + 3.0, foot}, kBig);
  }
  pages.down(height);
}

/// Square, then tight, then fixed in its place.
void add_squaring(Pager& pages, const Layout& layout, const AssemblyPlan& plan,
                  const AssemblyUnit& unit, const Doings& doings) {
  for (const SquareCheck& check : plan.squares) {
    if (check.module == unit.name) add_square(pages, check, layout.project.show);
  }
  const std::vector<SlotBolts> bolts = slot_bolts(layout, unit);
  if (unit.name == unit.module && !bolts.empty()) {
    Task tighten{say("bench.tighten"), {}};
    for (const SlotBolts& each : bolts) {
      tighten.items.push_back(say(
          "bench.in_nut", {{"bolt", each.bolt}, {"nut", each.nut}, {"torque", torque_text(each)}}));
    }
    add_task(pages, tighten, unit.title);
  }
  if (const auto last = doings.in_place(); !last.empty())
    add_task(pages, {join(last, "; "), {}}, unit.title);
}

}  // namespace

std::vector<SetPage> assembly_pages(const Layout& layout, const AssemblyPlan& plan,
                                    const BenchOptions& options) {
  const Names names(layout);
  Pager pages(layout, options, say("bench.assemble"), "assemble", say("file.assemble"));
  for (const AssemblyUnit& unit : plan.units) {
    pages.need(40.0);
    pages.down(2.0);
    add_line(pages.page(), {pages.left(), pages.y()}, {pages.page().frame.hi.x, pages.y()},
             kBenchPens.visible());
    const std::string title =
        say(unit.bench ? "bench.on_bench" : "bench.in_van", {{"unit", unit.title}});
    add_sized(pages.page(), title, {pages.left(), pages.y() - 8.0}, kFigure, pages.width());
    pages.down(11.0);
    const Doings doings(layout, names, unit);
    std::vector<std::string> of_all{say("bench.directions", {{"ways", doings.ways_meant()}})};
    std::ranges::move(doings.of_all(), std::back_inserter(of_all));
    pages.down(add_notes(pages.page(), {join(of_all, "; ")}, {pages.left(), pages.y()},
                         pages.width(), kWord) +
               1.5);
    int number = 0;
    const auto squared = static_cast<int>(doings.squared_after());
    for (const AssemblyStep& step : unit.steps) {
      add_task(pages, {step_text(layout, step, names, doings, ++number), {}}, unit.title);
      if (number == squared) add_squaring(pages, layout, plan, unit, doings);
    }
  }
  return pages.take();
}

}  // namespace ribbay::detail

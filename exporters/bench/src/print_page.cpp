#include "print_page.hpp"

#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/sheet.hpp"
#include "drawings/views.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kMargin = 12.0;
constexpr double kHead = 15.0;    // of the heading's band
constexpr double kNumber = 30.0;  // of the page's number in it
constexpr double kTickPitch = 6.5;
constexpr double kGap = 2.0;      // between tasks
constexpr double kAside = 3.0;    // from a box to its figures
constexpr double kBetween = 6.0;  // between items of a row

std::size_t per_row(double width) {
  return std::max<std::size_t>(1, static_cast<std::size_t>(width / kTickPitch));
}

}  // namespace

Drawing print_page(Paper paper, const std::string& title) {
  const PaperSize size = size_of(paper);
  Drawing d;
  d.format = size.name;
  d.width = size.width;
  d.height = size.height;
  d.frame = {{kMargin, kMargin}, {size.width - kMargin, size.height - kMargin}};
  d.title = title;
  return d;
}

void add_tick(Drawing& page, Vec2 lower_left) {
  add_rect(page, {lower_left, lower_left + Vec2{kTick, kTick}}, kBenchPens.thin());
}

double ticks_height(std::size_t count, double width) {
  return kTickPitch * static_cast<double>((count + per_row(width) - 1) / per_row(width));
}

double add_ticks(Drawing& page, std::size_t count, Vec2 corner, double width) {
  const std::size_t row = per_row(width);
  for (std::size_t i = 0; i < count; ++i) {
    add_tick(page, corner + Vec2{kTickPitch * static_cast<double>(i % row),
                                 -kTickPitch * static_cast<double>(i / row) - kTick - 0.5});
  }
  return ticks_height(count, width);
}

Rect inked_since(const Drawing& page, const Drawing& before) {
  Rect ink{page.frame.hi, page.frame.lo};
  const auto add = [&](Vec2 p) {
    ink.lo = {std::min(ink.lo.x, p.x), std::min(ink.lo.y, p.y)};
    ink.hi = {std::max(ink.hi.x, p.x), std::max(ink.hi.y, p.y)};
  };
  for (std::size_t i = before.lines.size(); i < page.lines.size(); ++i) {
    add(page.lines[i].a);
    add(page.lines[i].b);
  }
  for (std::size_t i = before.texts.size(); i < page.texts.size(); ++i) {
    const Rect text = extent(page.texts[i]);
    add(text.lo);
    add(text.hi);
  }
  for (std::size_t i = before.fills.size(); i < page.fills.size(); ++i)
    std::ranges::for_each(page.fills[i].corners, add);
  for (std::size_t i = before.arcs.size(); i < page.arcs.size(); ++i)
    std::ranges::for_each(page.arcs[i].polyline(), add);
  return ink;
}

void add_sized(Drawing& page, const std::string& text, Vec2 at, double largest, double width,
               Align align) {
  for (const double h : {kBig, kFigure, kWord}) {
    if (h > largest + 0.01 || text_width(text, h) > width) continue;
    return add_text(page, text, at, h, align);
  }
  add_fitted(page, text, at, 2.5, width, align);
}

std::string ids_text(const Layout& layout, const PartType& type, std::size_t most) {
  std::vector<std::string> ids;
  for (const std::size_t i : type.parts) {
    if (ids.size() < most) ids.push_back(layout.parts[i].id);
  }
  const std::size_t more = type.parts.size() - ids.size();
  const std::string some = join(ids, ", ");
  return more > 0 ? say("and_more", {{"some", some}, {"count", std::to_string(more)}}) : some;
}

Pager::Pager(const Layout& layout, const BenchOptions& options, std::string heading,
             std::string file, std::string what)
    : file_(std::move(file)), what_(std::move(what)) {
  const std::string& project =
      layout.project.title.empty() ? layout.project.name : layout.project.title;
  blank_ = print_page(options.paper, project + ", " + heading);
  top_ = blank_.frame.hi.y;
  if (options.not_for_cutting) {
    add_stamp(blank_);
    top_ = blank_.reserved.back().lo.y;
  }
  const Vec2 foot{blank_.frame.lo.x, top_ - kHead + 6.0};
  add_text(blank_, heading, foot, kBig);
  const double used = text_width(heading, kBig) + 6.0;
  const bool inches = layout.project.show == LengthStyle::inches;
  const auto sizes = [&](const std::string& of) {
    return say(inches ? "bench.in_inches" : "bench.in_mm", {{"project", of}});
  };
  const double room = blank_.frame.width() - kNumber - used;
  const bool fits = text_width(sizes(project), kWord) <= room;
  add_sized(blank_, sizes(fits ? project : layout.project.name),
            {blank_.frame.hi.x - kNumber, foot.y}, kWord, room, Align::right);
  add_line(blank_, {blank_.frame.lo.x, foot.y - 3.0}, {blank_.frame.hi.x, foot.y - 3.0},
           kBenchPens.visible());
  blank_.reserved.push_back(
      {{blank_.frame.hi.x - kNumber, foot.y - 2.0}, {blank_.frame.hi.x, top_}});
  top_ -= kHead;
  page_ = blank_;
  y_ = top_;
}

void Pager::head(const std::function<double(Drawing&, Vec2 corner)>& draw) {
  top_ -= draw(blank_, {left(), top_});
  page_ = blank_;
  y_ = top_;
}

void Pager::turn() {
  pages_.push_back({file_, what_, std::move(page_)});
  page_ = blank_;
  y_ = top_;
}

void Pager::need(double height, const std::string& continued) {
  if (room() >= height || untouched()) return;
  turn();
  if (continued.empty()) return;
  add_text(page_, say("bench.continued", {{"what", continued}}), {left(), y_ - kFigure - 1.0},
           kFigure);
  down(kFigure + 5.0);
}

std::vector<SetPage> Pager::take() {
  if (!untouched()) turn();
  return std::move(pages_);
}

void number_pages(std::vector<SetPage>& pages) {
  const std::string all = std::to_string(pages.size());
  int number = 0;
  for (SetPage& page : pages) {
    const std::string digits = std::to_string(++number);
    Drawing& d = page.drawing;
    d.number = digits;
    const Rect spot = d.reserved.back();
    add_text(d, digits + " / " + all, {spot.hi.x, spot.lo.y + 2.0}, kFigure, Align::right);
    page.path = "bench/" + std::string(3 - std::min<std::size_t>(3, digits.size()), '0') + digits +
                "-" + page.path + ".svg";
  }
}

double height_of(const Task& task, double width) {
  const double indent = task.items.empty() ? kTick + 3.0 : 0.0;
  double height = std::max(notes_height({task.words}, width - indent, kWord), kTick) + kGap;
  if (task.items.empty()) return height;
  double widest = 0.0;
  for (const std::string& item : task.items) widest = std::max(widest, text_width(item, kFigure));
  const double pitch = kTick + kAside + widest + kBetween;
  const double columns = std::max(1.0, std::floor((width + kBetween) / pitch));
  return height + kRow * std::ceil(static_cast<double>(task.items.size()) / columns) + kGap;
}

void add_task(Pager& pages, const Task& task, const std::string& continued) {
  const bool alone = task.items.empty();
  const double indent = alone ? kTick + 3.0 : 0.0;
  const double words = notes_height({task.words}, pages.width() - indent, kWord);
  pages.need(std::max(words, kTick) + (alone ? kGap : kGap + kRow), continued);
  if (alone) add_tick(pages.page(), {pages.left(), pages.y() - kTick - 1.0});
  add_notes(pages.page(), {task.words}, {pages.left() + indent, pages.y()}, pages.width() - indent,
            kWord);
  pages.down(std::max(words, kTick) + kGap);
  if (alone) return;
  double widest = 0.0;
  for (const std::string& item : task.items) widest = std::max(widest, text_width(item, kFigure));
  const double pitch = kTick + kAside + widest + kBetween;
  const auto columns =
      std::max<std::size_t>(1, static_cast<std::size_t>((pages.width() + kBetween) / pitch));
  for (std::size_t i = 0; i < task.items.size(); ++i) {
    if (i % columns == 0) {
      if (i > 0) pages.down(kRow);
      pages.need(kRow, continued);
    }
    const double x = pages.left() + pitch * static_cast<double>(i % columns);
    add_tick(pages.page(), {x, pages.y() - kRow + 2.0});
    add_sized(pages.page(), task.items[i], {x + kTick + kAside, pages.y() - kRow + 2.0}, kFigure,
              pages.width() - kTick - kAside);
  }
  pages.down(kRow + kGap);
}

}  // namespace ribbay::detail

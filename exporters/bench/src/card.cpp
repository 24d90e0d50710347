#include "card.hpp"

#include "base/wording.hpp"
#include "drawings/audit.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/views.hpp"
#include "sections.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kMark = 40.0;   // column of the mark
constexpr double kBoxes = 33.0;  // of the boxes, one for each piece
constexpr double kHead = 26.0;   // of a card, up to the ids

constexpr PictureTry kTries[] = {{kFigure, true, true},  {kWord, true, true},
                                 {kFigure, true, false}, {kWord, true, false},
                                 {kFigure, false, true}, {kFigure, false, false}};

constexpr std::size_t kIds = 4;  // of parts made alike; of more there is the number

/// "Birch plywood 15 mm", "Maple board 9.5 x 90, Hard maple".
std::string stock_text(const Layout& layout, const Part& part) {
  const std::string material = material_title(layout, part.material);
  const std::string stock = stock_title(layout, part);
  std::string plain = material;
  std::erase(plain, ',');
  return stock.find(plain) == std::string::npos ? stock + ", " + material : stock;
}

double head_height(const Layout& layout, const Card& card, double width) {
  return kHead + std::max(0.0, ticks_height(card.type->parts.size(), kBoxes) - 13.0) +
         notes_height({ids_text(layout, *card.type, kIds)}, width, kWord) +
         notes_height(card.notes, width, kWord) + 2.0;
}

void add_head(Pager& pages, const Layout& layout, const Card& card) {
  Drawing& d = pages.page();
  const Part& part = layout.parts[card.type->parts.front()];
  const double x = pages.left();
  const double y = pages.y();
  const std::size_t count = card.type->parts.size();
  add_line(d, {x, y}, {d.frame.hi.x, y}, kBenchPens.visible());
  add_text(d, card.type->mark, {x, y - 12.0}, 10.0);
  const double words = pages.width() - kMark - kBoxes - 4.0;
  const Module* module = layout.module(part.module);
  add_sized(d, part.title + ", " + (module && !module->title.empty() ? module->title : part.module),
            {x + kMark, y - 7.5}, kFigure, words);
  add_sized(d, stock_text(layout, part), {x + kMark, y - 13.5}, kWord, words);
  add_sized(d,
            card.diagonal.empty()
                ? card.size
                : say("bench.diagonals", {{"size", card.size}, {"diagonal", card.diagonal}}),
            {x + kMark, y - 24.0}, kBig, words);
  add_text(d, say("bench.count", {{"count", std::to_string(count)}}),
           {d.frame.hi.x - kBoxes, y - 7.5}, kFigure);
  add_ticks(d, count, {d.frame.hi.x - kBoxes, y - 10.0}, kBoxes);
  const double boxes = std::max(0.0, ticks_height(count, kBoxes) - 13.0);
  pages.down(kHead + boxes);
  std::vector<std::string> notes{ids_text(layout, *card.type, kIds)};
  notes.insert(notes.end(), card.notes.begin(), card.notes.end());
  for (const std::string& note : notes) {
    pages.down(add_notes(d, {note}, {x, pages.y()}, pages.width(), kWord));
  }
  pages.down(2.0);
}

/// The lower edge of what stands on a page and not on the blank one.
double lowest(const Drawing& d, const Drawing& blank) {
  double y = d.frame.hi.y;
  for (std::size_t i = blank.lines.size(); i < d.lines.size(); ++i)
    y = std::min({y, d.lines[i].a.y, d.lines[i].b.y});
  for (std::size_t i = blank.texts.size(); i < d.texts.size(); ++i)
    y = std::min(y, extent(d.texts[i]).lo.y);
  for (const InkArc& arc : d.arcs) {
    for (const Vec2 p : arc.polyline()) y = std::min(y, p.y);
  }
  return y;
}

/// The first attempt that leaves nothing to stumble over, and how high it is.
std::optional<std::pair<PictureTry, double>> best_try(const Pager& pages, const Card& card) {
  for (const PictureTry& attempt : kTries) {
    Drawing scratch = pages.blank();
    if (!card.picture(scratch, {pages.left(), pages.top()}, pages.width(), attempt)) continue;
    const double height = pages.top() - lowest(scratch, pages.blank());
    if (height < pages.full_room() && audit(scratch).empty()) return std::pair{attempt, height};
  }
  return std::nullopt;
}

}  // namespace

void add_hook(Drawing& page, Vec2 corner) {
  const Vec2 way{std::sqrt(0.5), std::sqrt(0.5)};
  const Vec2 tip = corner - way * 1.2;
  const Vec2 base = tip - way * 5.0;
  page.fills.push_back({{tip, base + perpendicular(way) * 1.5, base - perpendicular(way) * 1.5}});
}

void add_card(Pager& pages, const Layout& layout, const Card& card) {
  const auto attempt = best_try(pages, card);
  const double head = head_height(layout, card, pages.width());
  const double picture = attempt ? attempt->second + 4.0 : 0.0;
  double tasks = 0.0;
  for (const Task& task : card.tasks) tasks += height_of(task, pages.width());
  const double all = head + picture + tasks + 4.0;
  // What fits a page is not torn apart; of the rest the head stays with its picture.
  pages.need(all <= pages.full_room() ? all : std::min(head + picture + 30.0, pages.full_room()));
  add_head(pages, layout, card);
  if (attempt) {
    card.picture(pages.page(), {pages.left(), pages.y()}, pages.width(), attempt->first);
    pages.down(picture);
  }
  for (const Task& task : card.tasks) add_task(pages, task, card.type->mark);
  pages.down(4.0);
}

std::vector<SetPage> part_pages(const Layout& layout, const BenchOptions& options) {
  const std::vector<PartType> types = part_types(layout);
  Pager pages(layout, options, say("bench.parts"), "parts", say("file.parts"));
  for (const PartType& type : types) {
    const bool member = layout.parts[type.parts.front()].kind == PartKind::member;
    const Card card = member ? member_card(layout, type) : panel_card(layout, type);
    if (!card.tasks.empty()) add_card(pages, layout, card);
  }
  return pages.take();
}

}  // namespace ribbay::detail

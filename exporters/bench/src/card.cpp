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

constexpr double kMark = 40.0;     // column of the mark
constexpr double kBoxes = 33.0;    // of the boxes, one for each piece
constexpr double kSize = 11.0;     // of the line that tells what is sawn
constexpr double kDiagonal = 7.0;  // of diagonals in a line of their own

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

std::string title_text(const Layout& layout, const PartType& type) {
  const Part& part = layout.parts[type.parts.front()];
  return titles_of(layout, type) + ", " + module_title(layout, part.module);
}

double words_width(double width) {
  return width - kMark - kBoxes - 4.0;
}

/// A title that fits no line stands in several, smaller ones.
double title_height(const std::string& title, double width) {
  return text_width(title, kFigure) <= width ? 8.5 : notes_height({title}, width, kWord) + 2.0;
}

/// What is sawn, with its diagonals beside it, or in a line of their own where both would be small.
std::vector<std::string> size_lines(const Card& card, double width) {
  if (card.diagonal.empty()) return {card.size};
  const std::string both =
      say("bench.diagonals", {{"size", card.size}, {"diagonal", card.diagonal}});
  if (text_width(both, kFigure) <= width) return {both};
  return {card.size, say("bench.diagonals_below", {{"diagonal", card.diagonal}})};
}

/// From the upper edge of a card down to its ids.
double top_height(const Layout& layout, const Card& card, double width) {
  const PartType& type = *card.type;
  const Part& part = layout.parts[type.parts.front()];
  const double words = words_width(width);
  const double told = title_height(title_text(layout, type), words) +
                      notes_height({stock_text(layout, part)}, words, kWord) + kSize +
                      (size_lines(card, words).size() > 1 ? kDiagonal : 0.0);
  return std::max(told, ticks_height(type.parts.size(), kBoxes) + 13.0);
}

double head_height(const Layout& layout, const Card& card, double width) {
  return top_height(layout, card, width) +
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
  const double words = words_width(pages.width());
  const std::string title = title_text(layout, *card.type);
  const double titled = title_height(title, words);
  if (text_width(title, kFigure) <= words)
    add_text(d, title, {x + kMark, y - 7.5}, kFigure);
  else
    add_notes(d, {title}, {x + kMark, y - 1.5}, words, kWord);
  const double told =
      add_notes(d, {stock_text(layout, part)}, {x + kMark, y - titled}, words, kWord);
  const double foot = y - titled - told - kSize + 1.5;
  const std::vector<std::string> sizes = size_lines(card, words);
  add_sized(d, sizes.front(), {x + kMark, foot}, kBig, words);
  if (sizes.size() > 1) add_sized(d, sizes.back(), {x + kMark, foot - kDiagonal}, kFigure, words);
  add_text(d, say("bench.count", {{"count", std::to_string(count)}}),
           {d.frame.hi.x - kBoxes, y - 7.5}, kFigure);
  add_ticks(d, count, {d.frame.hi.x - kBoxes, y - 10.0}, kBoxes);
  pages.down(top_height(layout, card, pages.width()));
  std::vector<std::string> notes{ids_text(layout, *card.type, kIds)};
  notes.insert(notes.end(), card.notes.begin(), card.notes.end());
  for (const std::string& note : notes) {
    pages.down(add_notes(d, {note}, {x, pages.y()}, pages.width(), kWord));
  }
  pages.down(2.0);
}

/// A picture that leaves nothing to stumble over.
struct Picture {
  PictureTry attempt;
  double width = 0.0;
  double height = 0.0;
};

std::optional<Picture> best_try(const Pager& pages, const Card& card, double width) {
  for (const PictureTry& attempt : kTries) {
    Drawing scratch = pages.blank();
    if (!card.picture(scratch, {pages.left(), pages.top()}, width, attempt)) continue;
    const double height = pages.top() - inked_since(scratch, pages.blank()).lo.y;
    if (height < pages.full_room() && audit(scratch).empty())
      return Picture{attempt, width, height};
  }
  return std::nullopt;
}

/// As wide as the page, or somewhat less where that saves a page for the last few lines. `others`
/// is what all else on the card takes.
std::optional<Picture> picture_of(const Pager& pages, const Card& card, double others) {
  const auto fits = [&](const Picture& p) { return p.height + others <= pages.full_room(); };
  const auto whole = best_try(pages, card, pages.width());
  if (!whole || fits(*whole)) return whole;
  for (const double part : {0.85, 0.7, 0.55, 0.4}) {
    const auto smaller = best_try(pages, card, pages.width() * part);
    if (smaller && fits(*smaller)) return smaller;
  }
  return whole;
}

}  // namespace

void add_hook(Drawing& page, Vec2 corner) {
  const Vec2 way{std::sqrt(0.5), std::sqrt(0.5)};
  const Vec2 tip = corner - way * 1.2;
  const Vec2 base = tip - way * 5.0;
  page.fills.push_back({{tip, base + perpendicular(way) * 1.5, base - perpendicular(way) * 1.5}});
}

void add_card(Pager& pages, const Layout& layout, const Card& card) {
  const double head = head_height(layout, card, pages.width());
  double tasks = 0.0;
  for (const Task& task : card.tasks) tasks += height_of(task, pages.width());
  const auto drawn = picture_of(pages, card, head + tasks + 8.0);
  const double picture = drawn ? drawn->height + 4.0 : 0.0;
  const double all = head + picture + tasks + 4.0;
  // What fits a page is not torn apart; of the rest the head stays with its picture.
  pages.need(all <= pages.full_room() ? all : std::min(head + picture + 30.0, pages.full_room()));
  add_head(pages, layout, card);
  if (drawn) {
    card.picture(pages.page(), {pages.left(), pages.y()}, drawn->width, drawn->attempt);
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

#include "card.hpp"

#include "base/wording.hpp"
#include "drawings/audit.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/views.hpp"
#include "sections.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kMark = 40.0;     // column of the mark
constexpr double kBoxes = 33.0;    // of the boxes, one for each piece
constexpr double kSize = 11.0;     // of the line that tells what is sawn
constexpr double kKeyRow = 6.0;    // of the marks at the head of a page
constexpr double kDiagonal = 7.0;  // of diagonals in a line of their own

constexpr PictureTry kTries[] = {{kFigure, true, true},  {kWord, true, true},
                                 {kFigure, true, false}, {kWord, true, false},
                                 {kFigure, false, true}, {kFigure, false, false}};

constexpr std::size_t kIds = 4;  // of parts made alike; of more they say nothing at the bench

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

/// What stands below what is sawn.
std::vector<std::string> under_title(const Card& card) {
  std::vector<std::string> notes = card.notes;
  if (!card.ids.empty()) notes.insert(notes.begin(), card.ids);
  return notes;
}

double head_height(const Layout& layout, const Card& card, double width) {
  return top_height(layout, card, width) + notes_height(under_title(card), width, kWord) + 2.0;
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
  pages.down(add_notes(d, under_title(card), {x, pages.y()}, pages.width(), kWord) + 2.0);
}

double note_height(const std::string& note, double width) {
  return note.empty() ? 0.0 : notes_height({note}, width, kWord) + 2.0;
}

/// A picture that leaves nothing to stumble over.
struct Picture {
  PictureTry attempt;
  double width = 0.0;
  double height = 0.0;  ///< with the note below it
  std::string note;
};

std::optional<Picture> best_try(const Pager& pages, const Card& card, double width) {
  for (const PictureTry& attempt : kTries) {
    Drawing scratch = pages.blank();
    const auto note = card.picture(scratch, {pages.left(), pages.top()}, width, attempt);
    if (!note) continue;
    const double height =
        pages.top() - inked_since(scratch, pages.blank()).lo.y + note_height(*note, pages.width());
    if (height < pages.full_room() && audit(scratch).empty())
      return Picture{attempt, width, height, *note};
  }
  return std::nullopt;
}

/// As wide as the page, or somewhat less where that saves a page for the last few lines; the head
/// stays with its picture in any case.
std::optional<Picture> picture_of(const Pager& pages, const Card& card, double head, double tasks) {
  std::optional<Picture> largest;
  for (const double part : {1.0, 0.85, 0.7, 0.55, 0.4, 0.3}) {
    auto picture = best_try(pages, card, pages.width() * part);
    if (!picture || head + picture->height > pages.full_room()) continue;
    if (head + picture->height + tasks <= pages.full_room()) return picture;
    if (!largest) largest = std::move(picture);
  }
  return largest;
}

/// What holds for all cards, at the head of each page.
double add_key(Drawing& d, Vec2 corner) {
  const double width = d.frame.hi.x - corner.x;
  double height = add_notes(d, {say("bench.key")}, corner, width, kWord);
  struct Mark {
    const char* words;
    bool through, behind;
  };
  double x = corner.x;
  height += kKeyRow;
  for (const Mark& mark : {Mark{"bench.key_through", true, false},
                           {"bench.key_blind", false, false},
                           {"bench.key_behind", true, true}}) {
    const std::string words = say(mark.words);
    const double wide = 6.0 + text_width(words, kWord);
    if (x > corner.x && x + wide > d.frame.hi.x) {
      x = corner.x;
      height += kKeyRow;
    }
    const double foot = corner.y - height + 1.5;
    Bore bore;
    bore.through = mark.through;
    add_hole_mark(d, {x + 2.0, foot + kWord / 2}, 0.0, bore, mark.behind, -1);
    add_text(d, words, {x + 6.0, foot}, kWord);
    x += wide + 8.0;
  }
  return height + 1.0;
}

}  // namespace

void add_hole_mark(Drawing& page, Vec2 at, double radius, const Bore& bore, bool behind, int view) {
  constexpr double least = 1.3;  // of a ring, to be told from a cross
  const Pen thin = kBenchPens.thin();
  const double r = std::max(radius, least);
  if (bore.through || behind) {
    const Pen ring = behind ? Pen{LineType::dashed, 0.18} : thin;
    page.arcs.push_back({at, {r, 0}, {0, r}, 0.0, 2.0 * std::numbers::pi, ring, -1, view});
  }
  if (bore.through) return;
  for (const Vec2 reach : {Vec2{r, 0}, Vec2{0, r}})
    page.lines.push_back({at - reach, at + reach, thin, -1, false, view});
}

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
  const auto drawn = picture_of(pages, card, head + 4.0, tasks + 4.0);
  const double picture = drawn ? drawn->height + 4.0 : 0.0;
  const double all = head + picture + tasks + 4.0;
  // What fits a page is not torn apart; of the rest the head stays with its picture.
  pages.need(all <= pages.full_room() ? all : std::min(head + picture + 30.0, pages.full_room()));
  add_head(pages, layout, card);
  if (drawn) {
    card.picture(pages.page(), {pages.left(), pages.y()}, drawn->width, drawn->attempt);
    const double note = note_height(drawn->note, pages.width());
    if (note > 0.0)
      add_notes(pages.page(), {drawn->note}, {pages.left(), pages.y() - drawn->height + note - 2.0},
                pages.width(), kWord);
    pages.down(picture);
  }
  for (const Task& task : card.tasks) add_task(pages, task, card.type->mark);
  pages.down(4.0);
}

std::vector<SetPage> part_pages(const Layout& layout, const BenchOptions& options) {
  const std::vector<PartType> types = part_types(layout);
  Pager pages(layout, options, say("bench.parts"), "parts", say("file.parts"));
  std::map<std::string, int> alike;  // titles, by how many types bear them
  for (const PartType& type : types) ++alike[title_text(layout, type)];
  std::vector<Card> cards;
  std::vector<std::string> as_sawn;
  for (const PartType& type : types) {
    const bool member = layout.parts[type.parts.front()].kind == PartKind::member;
    Card card = member ? member_card(layout, type) : panel_card(layout, type);
    if (card.tasks.empty()) {
      as_sawn.push_back(type.mark + " (" + std::to_string(type.parts.size()) + ")");
      continue;
    }
    if (alike[title_text(layout, type)] > 1 && type.parts.size() <= kIds)
      card.ids = ids_text(layout, type, kIds);
    cards.push_back(std::move(card));
  }
  if (!cards.empty()) pages.head(add_key);
  if (!as_sawn.empty()) {
    const std::string words = say("bench.as_sawn", {{"marks", join(as_sawn, ", ")}});
    pages.down(1.0);
    pages.down(2.0 +
               add_notes(pages.page(), {words}, {pages.left(), pages.y()}, pages.width(), kWord));
  }
  for (const Card& card : cards) add_card(pages, layout, card);
  return pages.take();
}

}  // namespace ribbay::detail

#include "cutplans/cut_pages.hpp"

#include "bar_pages.hpp"
#include "base/text.hpp"
#include "base/wording.hpp"
#include "drawings/sheet.hpp"
#include "picture_words.hpp"
#include "sheet_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace {

using namespace detail;

constexpr Pens kPens = kPicturePens;
constexpr double kMargin = 8.0;       ///< around the picture
constexpr double kWordsAbove = 12.0;  ///< of the heading over the picture
constexpr double kStamp = 12.0;       ///< of NOT FOR CUTTING

/// Sheets of one plan that are sawn alike.
struct Pattern {
  const SheetLayout* layout = nullptr;
  std::vector<int> sheets;  ///< their numbers
};

bool alike(const SheetLayout& a, const SheetLayout& b) {
  const auto same_part = [](const SheetPart& p, const SheetPart& q) {
    return p.x == q.x && p.y == q.y && p.length == q.length && p.width == q.width &&
           p.piece == q.piece && p.turned == q.turned;
  };
  const auto same_cut = [](const SheetCut& p, const SheetCut& q) {
    return p.part == q.part && p.rip == q.rip && p.fence == q.fence && p.first == q.first &&
           p.rest == q.rest;
  };
  return a.stock == b.stock && std::ranges::equal(a.parts, b.parts, same_part) &&
         std::ranges::equal(a.cuts, b.cuts, same_cut);
}

std::vector<Pattern> patterns_of(const SheetsPlan& plan) {
  std::vector<Pattern> patterns;
  int number = 0;
  for (const SheetLayout& layout : plan.layouts) {
    ++number;
    const auto known = std::ranges::find_if(
        patterns, [&](const Pattern& pattern) { return alike(*pattern.layout, layout); });
    if (known != patterns.end()) {
      known->sheets.push_back(number);
    } else {
      patterns.push_back({&layout, {number}});
    }
  }
  return patterns;
}

std::string numbers_text(const std::vector<int>& numbers) {
  std::vector<std::string> words;
  for (const int number : numbers) words.push_back(std::to_string(number));
  return say(numbers.size() > 1 ? "cutting.sheets" : "cutting.sheet",
             {{"numbers", join(words, ", ")}});
}

/// "birch-12" from "birch_12".
std::string in_file_name(std::string key) {
  std::ranges::replace(key, '_', '-');
  return key;
}

/// The pages of one pattern: the picture with the first cuts beside it, then the other cuts.
class CutPages {
 public:
  CutPages(const Layout& layout, const StockPlan& plan, const Pattern& pattern,
           const DrawingOptions& options, std::string number)
      : layout_(layout),
        plan_(plan),
        number_(std::move(number)),
        order_(plan.orders.sheets.front()),
        pattern_(pattern),
        not_for_cutting_(options.not_for_cutting),
        show_(layout.project.show),
        sheet_(pattern.layout->parts.front()),
        all_cuts_(cuts()) {}

  /// On the smallest page where every piece and every cut can be named in the picture.
  std::vector<Drawing> take() {
    for (const PageSize size : {PageSize::a3, PageSize::a2, PageSize::a1}) {
      draw_all(size);
      if (nameless_.empty()) break;
    }
    if (!nameless_.empty()) say_nameless();
    return std::move(pages_);
  }

 private:
  static constexpr PageSize kMorePages = PageSize::a3;

  /// Rows of cuts between the foot of a table and `top`.
  std::size_t rows_in(double top, double foot) const {
    return static_cast<std::size_t>(std::max(0.0, (top - foot) / all_cuts_.row)) - 1;
  }

  double stamp() const { return not_for_cutting_ ? kStamp : 0.0; }

  void draw_all(PageSize size) {
    pages_.clear();
    nameless_.clear();
    const Drawing first = new_page(size, block("1/1"));
    const Drawing more = new_page(kMorePages, block("1/1"));
    // The table stands at the right, over the title block.
    const double top = first.frame.hi.y - kMargin - stamp();
    const double foot = title_area(first).hi.y + kMargin;
    const std::size_t beside = std::min(rows_in(top, foot), all_cuts_.rows.size());
    const double more_top = more.frame.hi.y - kMargin - stamp() - kWordsAbove;
    const std::size_t left = rows_in(more_top, more.frame.lo.y + kMargin);
    const std::size_t right = rows_in(more_top, title_area(more).hi.y + kMargin);
    const std::size_t rest = all_cuts_.rows.size() - beside;
    const std::size_t pages = 1 + (rest + left + right - 1) / (left + right);
    const auto sheet = [&](std::size_t page) {
      return std::to_string(page) + "/" + std::to_string(pages);
    };
    drawing_ = new_page(size, block(sheet(1)));
    if (not_for_cutting_) add_stamp(drawing_);
    // What is left is the picture's, as large as it gets: nobody measures it.
    room_ = {
        {drawing_.frame.lo.x + kMargin, foot},
        drawing_.frame.hi - Vec2{all_cuts_.width() + 2 * kMargin, kMargin + kWordsAbove + stamp()}};
    scale_ = std::min(room_.width() / sheet_.length, room_.height() / sheet_.width);
    add_cuts(0, beside, {drawing_.frame.hi.x - all_cuts_.width() - kMargin, top});
    draw_sheet();
    pages_.push_back(std::move(drawing_));
    for (std::size_t from = beside; from < all_cuts_.rows.size(); from += left + right) {
      drawing_ = new_page(kMorePages, block(sheet(pages_.size() + 1)));
      if (not_for_cutting_) add_stamp(drawing_);
      add_text(drawing_, say("cutting.further", {{"what", heading()}}),
               {drawing_.frame.lo.x + kMargin, more_top + 4.0}, 3.5);
      add_cuts(from, left, {drawing_.frame.lo.x + kMargin, more_top});
      add_cuts(from + left, right, {drawing_.frame.hi.x - all_cuts_.width() - kMargin, more_top});
      pages_.push_back(std::move(drawing_));
    }
  }

  /// At most `most` rows of cuts from `from` on.
  void add_cuts(std::size_t from, std::size_t most, Vec2 corner) {
    Table table{.columns = all_cuts_.columns, .rows = {}};
    const std::size_t to = std::min(from + most, all_cuts_.rows.size());
    for (std::size_t row = from; row < to; ++row) table.rows.push_back(all_cuts_.rows[row]);
    if (!table.rows.empty()) add_table(drawing_, table, corner);
  }

  /// Nothing is dropped in silence.
  void say_nameless() {
    Drawing& first = pages_.front();
    const std::string words = say("cutting.nameless", {{"what", join(nameless_, ", ")}});
    add_fitted(first, words, {room_.lo.x, room_.lo.y - kMargin + 1.0}, kLetters, room_.width());
  }

  TitleBlock block(const std::string& sheet) const {
    return {.owner = layout_.project.author,
            .creator = layout_.project.author,
            .date = layout_.project.date,
            .number = number_,
            .title = plan_.title,
            .subtitle = layout_.project.title,
            .type = say("document.cutting"),
            .material = "",
            .stock = plan_.key,
            .finish = "",
            .scale = say("scale.none"),
            .mass = "",
            .quantity = std::to_string(pattern_.sheets.size()),
            .status = say("status.issued"),
            .sheet = sheet,
            .first_angle = layout_.project.first_angle,
            .show = show_};
  }

  Table cuts() const {
    Table table;
    table.columns = {
        {say("column.cut"), 10, Align::right},   {say("column.stage"), 12, Align::left},
        {say("column.of"), 38, Align::left},     {say("column.direction"), 18, Align::left},
        {say("column.fence"), 18, Align::right}, {say("column.gives"), 38, Align::left},
        {say("column.leaves"), 38, Align::left}};
    int number = 0;
    for (const SheetCut& cut : pattern_.layout->cuts) {
      const auto words = [&](std::size_t part) {
        return part_words(order_, *pattern_.layout, part, show_);
      };
      table.rows.push_back({std::to_string(++number),
                            cut.stage == 0 ? say("cutting.trim") : std::to_string(cut.stage),
                            words(cut.part), say(cut.rip ? "cutting.along" : "cutting.across"),
                            length_text(cut.fence, show_), words(cut.first),
                            cut.rest ? words(*cut.rest) : say("cutting.nothing")});
    }
    return table;
  }

  Vec2 paper(double x, double y) const { return origin_ + Vec2{x, y} * scale_; }

  Rect on_paper(const SheetPart& part) const {
    return {paper(part.x, part.y), paper(part.x + part.length, part.y + part.width)};
  }

  std::string heading() const {
    const std::string& bought = order_.stock[pattern_.layout->stock].label;
    return say("cutting.heading",
               {{"sheets", numbers_text(pattern_.sheets)},
                {"stock", plan_.title},
                {"size", size_words(sheet_, show_)},
                {"unit", say(show_ == LengthStyle::inches ? "unit.in" : "unit.mm")}}) +
           (bought == plan_.key ? "" : ", " + bought);
  }

  /// What the plan reckons with: the saw cut, and what comes off each edge first.
  std::string saw_words() const {
    return say("cutting.saw_sheet", {{"kerf", value_text(order_.saw.kerf, Unit::mm, show_)},
                                     {"trim", value_text(order_.saw.trim, Unit::mm, show_)}});
  }

  void draw_sheet() {
    const Vec2 size = Vec2{sheet_.length, sheet_.width} * scale_;
    origin_ = {room_.lo.x + (room_.width() - size.x) / 2, room_.hi.y - size.y};
    const double top = origin_.y + size.y;
    add_text(drawing_, heading(), {origin_.x, top + 8.0}, 3.5);
    add_fitted(drawing_, saw_words(), {origin_.x, top + 3.5}, kLetters, room_.width());
    add_rect(drawing_, on_paper(sheet_), kPens.thin());
    const SheetLayout& layout = *pattern_.layout;
    for (const SheetPart& part : layout.parts) {
      if (part.piece) add_rect(drawing_, on_paper(part), kPens.visible());
    }
    for (const SheetPart& part : layout.parts) {
      if (const SharedRectangle* shared = shared_in(part)) draw_outlines(part, shared->outlines);
    }
    for (const SheetCut& cut : layout.cuts) draw_cut(cut);
    if (layout_.catalogue->sheets.at(plan_.key).grain) draw_grain(size);
    for (const SheetPart& part : layout.parts) {
      if (const SharedRectangle* shared = shared_in(part))
        name_both(part, *shared);
      else if (part.piece)
        name_piece(part);
    }
    int cuts = 0;
    for (const SheetCut& cut : layout.cuts) number(cut, std::to_string(++cuts));
    for (std::size_t p = 1; p < layout.parts.size(); ++p) {
      if (!layout.parts[p].piece && !is_cut_on(layout, p)) name_rest(layout.parts[p]);
    }
  }

  const SharedRectangle* shared_in(const SheetPart& part) const {
    const auto found = std::ranges::find_if(
        plan_.shared, [&](const SharedRectangle& each) { return part.piece == each.piece; });
    return found == plan_.shared.end() ? nullptr : &*found;
  }

  /// A point of a rectangle that two pieces share; its length may lie across the sheet.
  Vec2 in_part(const SheetPart& part, Vec2 p) const {
    if (part.turned) p = {part.length - p.y, p.x};
    return paper(part.x + p.x, part.y + p.y);
  }

  void draw_outlines(const SheetPart& part, const OutlinePair& pair) {
    for (const Polygon* outline : {&pair.first, &pair.second}) {
      for (std::size_t i = 0; i < outline->size(); ++i)
        add_line(drawing_, in_part(part, (*outline)[i]),
                 in_part(part, (*outline)[(i + 1) % outline->size()]), kPens.visible());
    }
  }

  /// Each of two pieces by its mark.
  void name_both(const SheetPart& part, const SharedRectangle& shared) {
    for (const auto& [mark, outline] : {std::pair(&shared.first, &shared.outlines.first),
                                        std::pair(&shared.second, &shared.outlines.second)}) {
      Vec2 middle;
      for (const Vec2 p : *outline)
        middle = middle + p * (1.0 / static_cast<double>(outline->size()));
      const Vec2 at = in_part(part, middle);
      if (!put(drawing_, *mark, at, kLetters, false) && !name_from_afar(drawing_, *mark, at))
        nameless_.push_back(*mark);
    }
  }

  /// The two ends of a cut: the middle of the blade's way.
  std::pair<Vec2, Vec2> ends(const SheetCut& cut) const {
    const SheetPart& part = pattern_.layout->parts[cut.part];
    const double kerf = order_.saw.kerf / 2;
    if (cut.rip) {
      const double y = part.y + cut.fence + kerf;
      return {paper(part.x, y), paper(part.x + part.length, y)};
    }
    const double x = part.x + cut.fence + kerf;
    return {paper(x, part.y), paper(x, part.y + part.width)};
  }

  void draw_cut(const SheetCut& cut) {
    const auto [a, b] = ends(cut);
    add_line(drawing_, a, b, kPens.thin());
  }

  void name_piece(const SheetPart& part) {
    const SheetPiece& piece = order_.pieces[*part.piece];
    const Rect box = on_paper(part);
    const std::string with_size = piece.label + "  " + piece_size_words(piece, part.turned, show_);
    for (const double height : {kLetters, kSmallLetters}) {
      for (const std::string& text : {with_size, piece.label}) {
        for (const bool turned : {false, true}) {
          if (put(drawing_, text, box.centre(), height, turned)) return;
        }
      }
    }
    if (!name_from_afar(drawing_, piece.label, box.centre())) nameless_.push_back(piece.label);
  }

  void number(const SheetCut& cut, const std::string& number) {
    const auto [a, b] = ends(cut);
    const Rect part = on_paper(pattern_.layout->parts[cut.part]);
    if (!number_cut(drawing_, a, b, part, number))
      nameless_.push_back(say("cutting.cut", {{"number", number}}));
  }

  void name_rest(const SheetPart& part) {
    const Rect box = on_paper(part);
    const std::string text = say("cutting.rest", {{"size", size_words(part, show_)}});
    for (const bool turned : {false, true}) {
      const double along = turned ? box.height() : box.width();
      InkText ink{.text = text, .at = {}, .height = kSmallLetters};
      if (extent(ink).width() + 2.0 > along) continue;
      if (put(drawing_, text, box.centre(), kSmallLetters, turned)) return;
    }
  }

  void draw_grain(Vec2 size) {
    const Vec2 middle = origin_ + Vec2{size.x / 2, -6.0};
    add_line(drawing_, middle - Vec2{20, 0}, middle + Vec2{20, 0}, kPens.thin());
    add_arrow(drawing_, middle - Vec2{20, 0}, {-1, 0});
    add_arrow(drawing_, middle + Vec2{20, 0}, {1, 0});
    add_text(drawing_, say("grain"), middle + Vec2{0, 1.2}, kLetters, Align::centre);
  }

  const Layout& layout_;
  const StockPlan& plan_;
  std::string number_;
  const SheetOrder& order_;
  const Pattern& pattern_;
  bool not_for_cutting_;
  LengthStyle show_;
  const SheetPart& sheet_;
  Table all_cuts_;
  std::vector<Drawing> pages_;
  std::vector<std::string> nameless_;  ///< pieces and cuts without a word in the picture
  Drawing drawing_;                    ///< the page that is drawn on
  Rect room_;
  Vec2 origin_;
  double scale_ = 1.0;
};

}  // namespace

std::vector<SetPage> cut_pages(const Layout& layout, const std::vector<StockPlan>& plans,
                               const DrawingOptions& options) {
  std::vector<SetPage> pages;
  int number = 700;
  for (const StockPlan& plan : plans) {
    if (plan.plans.sheets.empty()) continue;
    for (const Pattern& pattern : patterns_of(plan.plans.sheets.front())) {
      const std::string name = std::to_string(++number) + "-cut-" + in_file_name(plan.key) + "-" +
                               std::to_string(pattern.sheets.front());
      const std::string what = say(
          "file.cutting", {{"sheet", std::to_string(pattern.sheets.front())}, {"stock", plan.key}});
      int page = 0;
      for (Drawing& drawing :
           CutPages(layout, plan, pattern, options, name.substr(name.find('-') + 1)).take()) {
        const std::string more = ++page > 1 ? "-page-" + std::to_string(page) : "";
        pages.push_back({"drawings/" + name + more + ".svg",
                         page > 1 ? say("cutting.further", {{"what", what}}) : what,
                         std::move(drawing)});
      }
    }
  }
  int page = 0;
  for (Drawing& drawing : bar_pages(layout, plans, options)) {
    const std::string name = std::to_string(++number) + "-cut-bars-" + std::to_string(++page);
    pages.push_back({"drawings/" + name + ".svg", say("file.cutting_bars"), std::move(drawing)});
  }
  return pages;
}

}  // namespace ribbay

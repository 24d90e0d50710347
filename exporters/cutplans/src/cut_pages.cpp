#include "cutplans/cut_pages.hpp"

#include "bar_pages.hpp"
#include "base/text.hpp"
#include "base/wording.hpp"
#include "drawings/document.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/sheet.hpp"
#include "drawings/views.hpp"
#include "picture_words.hpp"
#include "sheet_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace {

using namespace detail;

constexpr Pens kPens = kPicturePens;
constexpr double kMargin = 8.0;        ///< between what stands on the page
constexpr double kHeading = 3.5;       ///< its letters
constexpr double kWordsAbove = 12.0;   ///< of the heading over the picture
constexpr double kGrain = 10.0;        ///< of the arrow below the picture
constexpr double kStamp = 12.0;        ///< of NOT FOR CUTTING
constexpr double kLarge = 3.5;         ///< letters, where they find room
constexpr double kNarrowNotes = 60.0;  ///< narrower columns of notes are hard to read
constexpr double kBetweenNotes = 1.5;
constexpr std::size_t kFewRows = 8;  ///< fewer rows beside a picture are not worth it
constexpr double kLargeRest = 60.0;  ///< mm: a rest of this width is worth a leader to its size

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

/// Which of the pages of one document these are.
struct Numbering {
  std::string document;
  std::size_t before = 0;
  std::size_t all = 1;
};

/// What stands where on the page with the picture.
struct Places {
  double scale = 1.0;
  Rect picture;
  Rect notes;
  double letters = kLetters;  ///< of the notes
  std::vector<Rect> columns;  ///< of the table
  std::size_t rows = 0;       ///< that find room in them
  bool fits = false;
};

/// The pages of one pattern: the picture, the first cuts below or beside it, then the other cuts.
class CutPages {
 public:
  CutPages(const Layout& layout, const StockPlan& plan, const Pattern& pattern,
           const DrawingOptions& options, Numbering numbering)
      : layout_(layout),
        plan_(plan),
        numbering_(std::move(numbering)),
        order_(plan.orders.sheets.front()),
        pattern_(pattern),
        not_for_cutting_(options.not_for_cutting),
        show_(layout.project.show),
        stock_(layout.catalogue->sheets.at(plan.key)),
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

  /// Rows of cuts that find room in a column, below the heading of the table.
  std::size_t rows_in(const Rect& column) const {
    return static_cast<std::size_t>(std::max(0.0, std::floor(column.height() / all_cuts_.row) - 1));
  }

  Rect usable(const Drawing& page) const {
    return {page.frame.lo + Vec2{kMargin, kMargin},
            page.frame.hi - Vec2{kMargin, kMargin + (not_for_cutting_ ? kStamp : 0.0)}};
  }

  /// Side by side from `left` on, between `top` and the foot of the page or its title block.
  std::vector<Rect> columns_from(const Drawing& page, double left, double top) const {
    const Rect area = usable(page);
    const Rect block = grown(title_area(page), kMargin);
    std::vector<Rect> columns;
    for (double x = left; x + all_cuts_.width() <= area.hi.x + 1e-6;
         x += all_cuts_.width() + kMargin) {
      const bool over_block = x + all_cuts_.width() > block.lo.x;
      columns.push_back({{x, over_block ? block.hi.y : area.lo.y}, {x + all_cuts_.width(), top}});
    }
    return columns;
  }

  /// The picture in the upper left corner, the table below it, or beside it at the right.
  Places places(const Drawing& page, double scale, bool beside) const {
    const Rect area = usable(page);
    const Rect block = grown(title_area(page), kMargin);
    const Vec2 size = Vec2{sheet_.length, sheet_.width} * scale;
    const double top = area.hi.y - kWordsAbove;
    const double right = beside ? area.hi.x - all_cuts_.width() - kMargin : area.hi.x;
    Places made;
    made.scale = scale;
    made.picture = {{area.lo.x, top - size.y}, {area.lo.x + size.x, top}};
    double foot = made.picture.lo.y - (stock_.grain ? kGrain : kMargin / 2);
    // The notes stand in what is left at the right of the picture, else below it.
    const double strip = right - made.picture.hi.x - kMargin;
    const bool in_strip = strip >= kNarrowNotes;
    const double width = in_strip ? strip : right - area.lo.x;
    const Vec2 corner = in_strip ? Vec2{made.picture.hi.x + kMargin, top} : Vec2{area.lo.x, foot};
    if (in_strip && height_of_notes(width, kLarge) <= size.y) made.letters = kLarge;
    const double height = height_of_notes(width, made.letters);
    made.notes = {corner - Vec2{0.0, height}, corner + Vec2{width, 0.0}};
    foot = std::min(foot, made.notes.lo.y - kMargin / 2);
    made.columns = beside ? columns_from(page, right + kMargin, area.hi.y)
                          : columns_from(page, area.lo.x, foot);
    for (const Rect& column : made.columns) made.rows += rows_in(column);
    made.fits = made.picture.hi.x <= right && foot >= area.lo.y && !overlap(made.picture, block) &&
                !overlap(made.notes, block);
    return made;
  }

  /// At the largest scale of ISO 5455 at which the picture fits the page with some of its cuts.
  Places best_places(const Drawing& page) const {
    const Rect area = usable(page);
    double scale =
        scale_below(std::min(area.width() / sheet_.length, area.height() / sheet_.width));
    while (true) {
      const Places below = places(page, scale, false);
      const Places beside = places(page, scale, true);
      const Places& best =
          !below.fits || (beside.fits && beside.rows > below.rows) ? beside : below;
      if (best.fits && best.rows >= std::min(kFewRows, all_cuts_.rows.size())) return best;
      scale = scale_below(scale * 0.9);
    }
  }

  void draw_all(PageSize size) {
    pages_.clear();
    nameless_.clear();
    Drawing more = new_page(kMorePages, block(""));
    const Rect more_area = usable(more);
    const std::vector<Rect> more_columns =
        columns_from(more, more_area.lo.x, more_area.hi.y - kWordsAbove);
    const Places here = best_places(new_page(size, block("")));
    open(size, scale_text(here.scale));
    std::size_t row = add_cuts(0, here.columns);
    double y = here.notes.hi.y;
    for (const std::string& note : notes())
      y -= add_notes(drawing_, {note}, {here.notes.lo.x, y}, here.notes.width(), here.letters) +
           kBetweenNotes;
    scale_ = here.scale;
    origin_ = here.picture.lo;
    add_text(drawing_, heading(), {origin_.x, here.picture.hi.y + 5.0}, kHeading);
    // Where the largest page does not suffice.
    const double above = here.picture.hi.y + 5.0 + kHeading;
    nameless_words_ = {{origin_.x, above + 1.0}, {here.picture.hi.x, above + kLetters + 1.0}};
    if (size == PageSize::a1) drawing_.reserved.push_back(nameless_words_);
    draw_sheet();
    pages_.push_back(std::move(drawing_));
    while (row < all_cuts_.rows.size()) {
      open(kMorePages, say("scale.none"));
      add_text(drawing_, say("cutting.further", {{"what", heading()}}),
               {more_area.lo.x, more_area.hi.y - kWordsAbove + 5.0}, kHeading);
      row = add_cuts(row, more_columns);
      pages_.push_back(std::move(drawing_));
    }
  }

  void open(PageSize size, const std::string& scale) {
    drawing_ = new_page(size, block(scale));
    if (not_for_cutting_) add_stamp(drawing_);
  }

  /// The cuts from row `from` on, as many as find room; the row after them.
  std::size_t add_cuts(std::size_t from, const std::vector<Rect>& columns) {
    for (const Rect& column : columns) {
      Table table{.columns = all_cuts_.columns, .rows = {}};
      for (std::size_t most = rows_in(column); most > 0 && from < all_cuts_.rows.size(); --most)
        table.rows.push_back(all_cuts_.rows[from++]);
      if (!table.rows.empty()) add_table(drawing_, table, {column.lo.x, column.hi.y});
    }
    return from;
  }

  /// Nothing is dropped in silence.
  void say_nameless() {
    Drawing& first = pages_.front();
    const std::string words = say("cutting.nameless", {{"what", join(nameless_, ", ")}});
    add_fitted(first, words, nameless_words_.lo, kLetters, nameless_words_.width());
  }

  TitleBlock block(const std::string& scale) const {
    TitleBlock block = title_block(layout_, not_for_cutting_);
    block.number = numbering_.document;
    block.title = plan_.title;
    block.subtitle = layout_.project.title;
    block.type = say("document.cutting");
    block.material = material_title(layout_, stock_.material);
    block.stock = plan_.key;
    block.scale = scale;
    block.quantity = std::to_string(pattern_.sheets.size());
    block.sheet = std::to_string(numbering_.before + pages_.size() + 1) + "/" +
                  std::to_string(numbering_.all);
    return block;
  }

  /// How the plan is read, and what it reckons with.
  std::vector<std::string> notes() const {
    const auto mm = [&](double length) { return value_text(length, Unit::mm, show_); };
    return {say(order_.saw.trim > 0.0 ? "cutting.note_trim" : "cutting.note_kerf",
                {{"kerf", mm(order_.saw.kerf)}, {"trim", mm(order_.saw.trim)}}),
            say(stock_.grain ? "cutting.note_along_grain" : "cutting.note_along",
                {{"length", length_text(sheet_.length, show_)},
                 {"width", length_text(sheet_.width, show_)}}),
            say("cutting.note_fence"), say("cutting.note_order"), say("cutting.note_care")};
  }

  double height_of_notes(double width, double letters) const {
    return notes_height(notes(), width, letters) +
           kBetweenNotes * static_cast<double>(notes().size());
  }

  Table cuts() const {
    Table table;
    table.columns = {
        {say("column.cut"), 9, Align::right},    {say("column.of"), 38, Align::left},
        {say("column.size"), 27, Align::left},   {say("column.direction"), 18, Align::left},
        {say("column.fence"), 15, Align::right}, {say("column.gives"), 38, Align::left},
        {say("column.leaves"), 38, Align::left}};
    int number = 0;
    for (const SheetCut& cut : pattern_.layout->cuts) {
      const auto words = [&](std::size_t part) {
        return part_words(order_, *pattern_.layout, part, show_);
      };
      table.rows.push_back({std::to_string(++number), words(cut.part),
                            size_words(pattern_.layout->parts[cut.part], show_),
                            say(cut.rip ? "cutting.along" : "cutting.across"),
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

  void draw_sheet() {
    add_rect(drawing_, on_paper(sheet_), kPens.thin());
    const SheetLayout& layout = *pattern_.layout;
    for (const SheetPart& part : layout.parts) {
      if (part.piece) add_rect(drawing_, on_paper(part), kPens.visible());
    }
    for (const SheetPart& part : layout.parts) {
      if (const SharedRectangle* shared = shared_in(part)) draw_outlines(part, shared->outlines);
    }
    for (const SheetCut& cut : layout.cuts) draw_cut(cut);
    if (stock_.grain) draw_grain();
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
    const double size = cut.rip ? part.width : part.length;
    const double blade = cut.fence + order_.saw.kerf / 2;
    const double at = cut.turned ? size - blade : blade;
    if (cut.rip) return {paper(part.x, part.y + at), paper(part.x + part.length, part.y + at)};
    return {paper(part.x + at, part.y), paper(part.x + at, part.y + part.width)};
  }

  void draw_cut(const SheetCut& cut) {
    const auto [a, b] = ends(cut);
    add_line(drawing_, a, b, kPens.thin());
  }

  void name_piece(const SheetPart& part) {
    const SheetPiece& piece = order_.pieces[*part.piece];
    const Rect box = on_paper(part);
    const std::string size = piece_size_words(piece, part.turned, show_);
    const std::string with_size = piece.label + "  " + size;
    const auto in_line = [&](const std::string& text, double height) {
      return put(drawing_, text, box.centre(), height, false) ||
             put(drawing_, text, box.centre(), height, true);
    };
    const auto stacked = [&](double height) {
      return put_stacked(drawing_, piece.label, size, box.centre(), height);
    };
    if (in_line(with_size, kLarge) || in_line(with_size, kLetters) || stacked(kLetters) ||
        in_line(with_size, kSmallLetters) || stacked(kSmallLetters) ||
        name_from_afar(drawing_, with_size, box.centre()) || in_line(piece.label, kLetters) ||
        in_line(piece.label, kSmallLetters) || name_from_afar(drawing_, piece.label, box.centre()))
      return;
    nameless_.push_back(piece.label);
  }

  void number(const SheetCut& cut, const std::string& number) {
    const auto [a, b] = ends(cut);
    Rect own = grown({a, b}, order_.saw.kerf / 2 * scale_ + 0.01);
    // The raw edge goes with the cut that trims it.
    if (cut.stage == 0 && cut.rest) {
      const Rect strip = on_paper(pattern_.layout->parts[*cut.rest]);
      own = {{std::min(own.lo.x, strip.lo.x - 0.01), std::min(own.lo.y, strip.lo.y - 0.01)},
             {std::max(own.hi.x, strip.hi.x + 0.01), std::max(own.hi.y, strip.hi.y + 0.01)}};
    }
    if (!number_cut(drawing_, a, b, own, number))
      nameless_.push_back(say("cutting.cut", {{"number", number}}));
  }

  void name_rest(const SheetPart& part) {
    const Rect box = on_paper(part);
    const std::string text = say("cutting.rest", {{"size", size_words(part, show_)}});
    for (const double height : {kLetters, kSmallLetters}) {
      for (const bool turned : {false, true}) {
        const double free = (turned ? box.height() : box.width()) - text_width(text, height) - 2.0;
        if (free < 0.0) continue;
        for (const double share : {0.0, 0.15, -0.15, 0.3, -0.3, 0.45, -0.45}) {
          const Vec2 off = (turned ? Vec2{0.0, 1.0} : Vec2{1.0, 0.0}) * (free * share);
          if (put(drawing_, text, box.centre() + off, height, turned)) return;
        }
      }
    }
    if (std::min(part.length, part.width) >= kLargeRest)
      name_from_afar(drawing_, text, box.centre());
  }

  void draw_grain() {
    const Vec2 middle = origin_ + Vec2{sheet_.length * scale_ / 2, -6.0};
    add_line(drawing_, middle - Vec2{20, 0}, middle + Vec2{20, 0}, kPens.thin());
    add_arrow(drawing_, middle - Vec2{20, 0}, {-1, 0});
    add_arrow(drawing_, middle + Vec2{20, 0}, {1, 0});
    add_text(drawing_, say("grain"), middle + Vec2{0, 1.2}, kLetters, Align::centre);
  }

  const Layout& layout_;
  const StockPlan& plan_;
  Numbering numbering_;
  const SheetOrder& order_;
  const Pattern& pattern_;
  bool not_for_cutting_;
  LengthStyle show_;
  const Sheet& stock_;
  const SheetPart& sheet_;
  Table all_cuts_;
  std::vector<Drawing> pages_;
  std::vector<std::string> nameless_;  ///< pieces and cuts without a word in the picture
  Drawing drawing_;                    ///< the page that is drawn on
  Vec2 origin_;                        ///< of the sheet on it
  Rect nameless_words_;                ///< where they are told
  double scale_ = 1.0;
};

/// All pages of one stock, pattern by pattern, numbered through.
std::vector<std::vector<Drawing>> pages_of(const Layout& layout, const StockPlan& plan,
                                           const std::vector<Pattern>& patterns,
                                           const DrawingOptions& options, const std::string& name) {
  const std::string document = document_number(layout, name);
  std::vector<std::vector<Drawing>> pages;
  const auto draw = [&](std::size_t all) {
    pages.clear();
    std::size_t drawn = 0;
    for (const Pattern& pattern : patterns) {
      pages.push_back(CutPages(layout, plan, pattern, options, {document, drawn, all}).take());
      drawn += pages.back().size();
    }
    return drawn;
  };
  if (const std::size_t all = draw(1); all > 1) draw(all);
  return pages;
}

}  // namespace

std::vector<SetPage> cut_pages(const Layout& layout, const std::vector<StockPlan>& plans,
                               const DrawingOptions& options) {
  std::vector<SetPage> pages;
  int number = 700;
  for (const StockPlan& plan : plans) {
    if (plan.plans.sheets.empty()) continue;
    const std::vector<Pattern> patterns = patterns_of(plan.plans.sheets.front());
    const std::string name = "cut-" + in_file_name(plan.key);
    std::size_t at = 0;
    for (std::vector<Drawing>& drawings : pages_of(layout, plan, patterns, options, name)) {
      const std::string sheet = std::to_string(patterns[at++].sheets.front());
      const std::string file = std::to_string(++number) + "-" + name + "-" + sheet;
      const std::string what = say("file.cutting", {{"sheet", sheet}, {"stock", plan.key}});
      int page = 0;
      for (Drawing& drawing : drawings) {
        const std::string more = ++page > 1 ? "-page-" + std::to_string(page) : "";
        pages.push_back({"drawings/" + file + more + ".svg",
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

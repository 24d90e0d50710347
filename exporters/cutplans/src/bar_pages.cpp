#include "bar_pages.hpp"

#include "base/text.hpp"
#include "base/wording.hpp"
#include "drawings/document.hpp"
#include "drawings/lettering.hpp"
#include "drawings/sheet.hpp"
#include "drawings/views.hpp"
#include "picture_words.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kMargin = 8.0;
constexpr double kStamp = 12.0;   ///< of NOT FOR CUTTING
constexpr double kHeading = 6.0;  ///< over a strip
constexpr double kRips = 4.5;     ///< below the heading: what is ripped
constexpr double kStrip = 12.0;   ///< its height: the width of a bar is not to scale
constexpr double kAbove = 1.5;    ///< over a strip
constexpr double kBeside = 6.0;   ///< of a strip, for values at its ends
constexpr double kBetween = 4.0;  ///< below the values of a strip
constexpr double kWords = 3.5;

/// Bars of one stock that are cut alike.
struct Strip {
  const StockPlan* plan = nullptr;
  const BarLayout* layout = nullptr;
  int first = 0;  ///< number of the first one
};

std::vector<Strip> strips_of(const std::vector<StockPlan>& plans) {
  std::vector<Strip> strips;
  for (const StockPlan& plan : plans) {
    if (plan.plans.bars.empty()) continue;
    int number = 1;
    for (const BarLayout& layout : plan.plans.bars.front().layouts) {
      strips.push_back({&plan, &layout, number});
      number += layout.count;
    }
  }
  return strips;
}

double length_of(const Strip& strip) {
  return strip.plan->orders.bars.front().stock[strip.layout->stock].length;
}

class BarPages {
 public:
  BarPages(const Layout& layout, const DrawingOptions& options, std::vector<Strip> strips)
      : layout_(layout),
        not_for_cutting_(options.not_for_cutting),
        show_(layout.project.show),
        strips_(std::move(strips)) {
    for (const Strip& strip : strips_) longest_ = std::max(longest_, length_of(strip));
  }

  std::vector<Drawing> take() {
    draw_all("1");
    if (pages_.size() > 1) draw_all(std::to_string(pages_.size()));
    return std::move(pages_);
  }

 private:
  void draw_all(const std::string& pages) {
    pages_.clear();
    all_ = pages;
    turn();
    for (const Strip& strip : strips_) {
      if (!add(strip)) {
        turn();
        add(strip);
      }
    }
  }

  void turn() {
    const std::string number = std::to_string(pages_.size() + 1);
    Drawing page = new_page(PageSize::a3, block(number + "/" + all_));
    if (not_for_cutting_) add_stamp(page);
    const double top = page.frame.hi.y - kMargin - (not_for_cutting_ ? kStamp : 0.0);
    const double x = page.frame.lo.x + kMargin;
    const Sawing& saw = layout_.sawing;
    const auto words = [&](double mm) { return value_text(mm, Unit::mm, show_); };
    const std::vector<std::string> notes = {
        say("cutting.saw_bars", {{"kerf", words(saw.bar_kerf)}, {"trim", words(saw.bar_trim)}}),
        say("cutting.note_stop", {{"kerf", words(saw.bar_kerf)}})};
    const double noted =
        add_notes(page, notes, {x, top}, page.frame.width() - 2 * kMargin, kLetters);
    free_ = {x + kBeside, top - noted - kBetween};
    shelf_foot_ = free_.y;
    empty_ = true;
    pages_.push_back(std::move(page));
  }

  TitleBlock block(const std::string& sheet) const {
    TitleBlock block = title_block(layout_, not_for_cutting_);
    block.number = document_number(layout_, "cut-bars");
    block.title = say("cutting.bars");
    block.subtitle = layout_.project.title;
    block.type = say("document.cutting");
    block.scale = say("scale.none");
    block.sheet = sheet;
    return block;
  }

  /// "B1: then rip to 56, groove off", of the pieces of a strip.
  std::string rips(const Strip& strip) const {
    const BarOrder& order = strip.plan->orders.bars.front();
    std::vector<std::string> words;
    for (const Rip& rip : strip.plan->rips) {
      if (std::ranges::none_of(strip.layout->pieces,
                               [&](std::size_t p) { return order.pieces[p].label == rip.mark; }))
        continue;
      const char* key = rip.groove && rip.tongue ? "cutting.rip_both"
                        : rip.groove             ? "cutting.rip_groove"
                        : rip.tongue             ? "cutting.rip_tongue"
                                                 : "cutting.rip";
      words.push_back(say(key, {{"mark", rip.mark}, {"width", length_text(rip.width, show_)}}));
    }
    return join(words, "; ");
  }

  std::string heading(const Strip& strip) const {
    const BarStock& stock = strip.plan->orders.bars.front().stock[strip.layout->stock];
    const int last = strip.first + strip.layout->count - 1;
    const std::string bars = last == strip.first
                                 ? say("cutting.bar", {{"number", std::to_string(last)}})
                                 : say("cutting.bars_to", {{"first", std::to_string(strip.first)},
                                                           {"last", std::to_string(last)}});
    return say("cutting.heading",
               {{"sheets", bars},
                {"stock", strip.plan->title},
                {"size", length_text(stock.length, show_)},
                {"unit", say(show_ == LengthStyle::inches ? "unit.in" : "unit.mm")}}) +
           (stock.label == strip.plan->key ? "" : ", " + stock.label) + ", " +
           say("cutting.rest", {{"size", length_text(strip.layout->rest, show_)}});
  }

  struct Piece {
    std::string label;
    double from = 0.0;
    double to = 0.0;
  };

  static std::vector<Piece> pieces_of(const BarOrder& order, const BarLayout& layout) {
    std::vector<Piece> pieces;
    double at = order.saw.trim;
    for (const std::size_t p : layout.pieces) {
      pieces.push_back({order.pieces[p].label, at, at + order.pieces[p].length});
      at += order.pieces[p].length + order.saw.kerf;
    }
    return pieces;
  }

  /// Draws a strip beside the one before where both are short, else below; false when it has no
  /// room on the page.
  bool add(const Strip& strip) {
    const BarOrder& order = strip.plan->orders.bars.front();
    AxisPlan saw_marks{ViewSide::bottom, 0.0, length_of(strip), false, {order.saw.trim}};
    for (const Piece& piece : pieces_of(order, *strip.layout))
      saw_marks.positions.push_back(piece.to);
    if (order.saw.trim == 0.0) saw_marks.positions.erase(saw_marks.positions.begin());
    const DimensionStyle style{
        .height = kLetters, .first = 5.0, .pitch = 7.0, .pen = kPicturePens.thin(), .show = show_};
    Drawing& page = pages_.back();
    const double left = page.frame.lo.x + kMargin + kBeside;
    const double right = page.frame.hi.x - kMargin - kBeside;
    // The longest leaves a gap, so that two of half its length stand side by side.
    const double scale = (right - left - 2 * kBeside) / longest_;
    const std::string words = heading(strip);
    const std::string ripped = rips(strip);
    const double width = std::max(
        {length_of(strip) * scale, text_width(words, kWords), text_width(ripped, kLetters)});
    const double height = kHeading + (ripped.empty() ? 0.0 : kRips) + kAbove + kStrip +
                          depth_of(saw_marks, style) + kBetween;
    const auto has_room = [&](Vec2 at) {
      // Short bars stand beside the title block as well.
      const Rect block = title_area(page);
      const bool over = at.x + width + kBeside >= block.lo.x;
      return at.x + width <= right + 1e-6 &&
             at.y - height >= (over ? block.hi.y : page.frame.lo.y) + kBetween;
    };
    Vec2 at = free_;
    if (!empty_ && !has_room(at)) {
      at = {left, shelf_foot_};
      if (!has_room(at)) return false;
    }
    add_text(page, words, {at.x, at.y - kWords - 1.0}, kWords);
    if (!ripped.empty()) add_text(page, ripped, {at.x, at.y - kHeading - kLetters - 0.5}, kLetters);
    const double strip_foot = at.y - kHeading - (ripped.empty() ? 0.0 : kRips) - kAbove - kStrip;
    const Rect area{{at.x, strip_foot}, {at.x + length_of(strip) * scale, strip_foot + kStrip}};
    const ViewPlace place =
        open_view(page, {area, axis_map(0.0, at.x, scale), axis_map(0.0, strip_foot, 1.0)});
    draw_pieces(page, place, order, *strip.layout);
    add_marks(page, place, saw_marks, style);
    shelf_foot_ = std::min(shelf_foot_, at.y - height);
    free_ = {at.x + width + 2 * kBeside, at.y};
    empty_ = false;
    return true;
  }

  /// Places of the cuts, running from the left end; in words where they find no room.
  void add_marks(Drawing& page, const ViewPlace& place, const AxisPlan& marks,
                 DimensionStyle style) const {
    for (const double height : {kLetters, kSmallLetters}) {
      style.height = height;
      Drawing with = page;
      if (!add_axis_dimensions(with, place, {marks}, style)) continue;
      page = std::move(with);
      return;
    }
    std::vector<std::string> values;
    for (const double at : marks.positions) values.push_back(length_text(at, show_));
    add_notes(page, {join(values, "; ")}, place.outline.lo - Vec2{0.0, 3.0}, place.outline.width(),
              kLetters);
  }

  void draw_pieces(Drawing& page, const ViewPlace& place, const BarOrder& order,
                   const BarLayout& layout) const {
    const Rect& strip = place.outline;
    const auto rect = [&](double from, double to, Pen pen) {
      const Rect area{{place.x.paper(from), strip.lo.y}, {place.x.paper(to), strip.hi.y}};
      const Vec2 corners[] = {area.lo, {area.hi.x, area.lo.y}, area.hi, {area.lo.x, area.hi.y}};
      for (int i = 0; i < 4; ++i)
        page.lines.push_back({corners[i], corners[(i + 1) % 4], pen, -1, false, place.view});
      return area;
    };
    rect(0.0, place.x.model(strip.hi.x), kPicturePens.thin());
    std::vector<std::pair<std::string, Rect>> names;
    for (const Piece& piece : pieces_of(order, layout)) {
      const Rect area = rect(piece.from, piece.to, kPicturePens.visible());
      names.emplace_back(piece.label + "  " + length_text(piece.to - piece.from, show_), area);
    }
    for (const auto& [name, area] : names) this->name(page, name, area);
  }

  /// In the piece, upright where it is short, else beside it.
  static void name(Drawing& page, const std::string& name, const Rect& area) {
    for (const bool turned : {false, true}) {
      for (const double height : {kLetters, kSmallLetters}) {
        if (put(page, name, area.centre(), height, turned)) return;
      }
    }
    name_from_afar(page, name, area.centre());
  }

  const Layout& layout_;
  bool not_for_cutting_;
  LengthStyle show_;
  std::vector<Strip> strips_;
  double longest_ = 0.0;
  std::vector<Drawing> pages_;
  std::string all_;          ///< how many pages there are
  Vec2 free_;                ///< where the next strip may stand beside those before
  double shelf_foot_ = 0.0;  ///< below all that is drawn
  bool empty_ = true;        ///< the page has no strip
};

}  // namespace

std::vector<Drawing> bar_pages(const Layout& layout, const std::vector<StockPlan>& plans,
                               const DrawingOptions& options) {
  std::vector<Strip> strips = strips_of(plans);
  if (strips.empty()) return {};
  return BarPages(layout, options, std::move(strips)).take();
}

}  // namespace ribbay::detail

#include "labels/labels.hpp"

#include "base/paper.hpp"
#include "base/wording.hpp"
#include "catalogue/titles.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/sheet.hpp"
#include "labels/qr_code.hpp"
#include "pdf/pdf.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

constexpr double kMargin = 8.0;   ///< home printers leave up to 6 mm blank
constexpr double kHeading = 7.0;  ///< over the labels of a page
constexpr std::size_t kColumns = 3;
constexpr double kLeastHeight = 38.0;  ///< of a label
constexpr double kInside = 2.5;        ///< from the cut to what is printed
constexpr double kCode = 20.0;         ///< side of a QR code with its quiet zone
constexpr double kMark = 5.0;          ///< letters
constexpr double kWords = 2.5;
constexpr double kPitch = 4.0;       ///< from line to line
constexpr double kClosePitch = 3.5;  ///< the same below the code
constexpr Pens kPens = kGroup35;

/// One piece and what is written on it.
struct Label {
  const Part* part = nullptr;
  std::string mark;
  std::string which;  ///< "2 of 4", or empty
};

std::vector<Label> labels_of(const Layout& layout) {
  std::vector<Label> labels;
  for (const PartType& type : part_types(layout)) {
    const std::string all = std::to_string(type.parts.size());
    std::size_t number = 0;
    for (const std::size_t part : type.parts) {
      ++number;
      labels.push_back({&layout.parts[part], type.mark,
                        type.parts.size() > 1
                            ? say("label.which", {{"number", std::to_string(number)}, {"all", all}})
                            : std::string()});
    }
  }
  return labels;
}

std::string size_words(const Layout& layout, const Part& part) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  std::string text = show(part.stock.length);
  if (part.stock.width > 0.0) text += " × " + show(part.stock.width);
  if (part.stock.thickness > 0.0) text += " × " + show(part.stock.thickness);
  return text + " " + say(layout.project.show == LengthStyle::inches ? "unit.in" : "unit.mm");
}

/// Which of the two sizes the grain runs along: the first, be it the shorter one.
std::string grain_words(const Layout& layout, const Part& part) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  return show(part.stock.length) == show(part.stock.width)
             ? say("label.grain_first")
             : say("label.grain", {{"size", show(part.stock.length)}});
}

/// Lines no wider than `width` where `text` can be divided behind '/', '.', '_' or a space.
std::vector<std::string> lines_of(const std::string& text, double width) {
  std::vector<std::string> lines(1);
  std::string piece;
  const auto take = [&] {
    if (!lines.back().empty() && text_width(lines.back() + piece, kWords) > width)
      lines.emplace_back();
    lines.back() += piece;
    piece.clear();
  };
  for (const char c : text) {
    piece += c;
    if (std::string_view("/._ ").find(c) != std::string_view::npos) take();
  }
  if (!piece.empty()) take();
  return lines;
}

/// Draws a label into its room.
class Sticker {
 public:
  Sticker(Drawing& page, const Layout& layout, const Label& label, const Rect& room)
      : page_(page), layout_(layout), label_(label), room_(grown(room, -kInside)) {}

  void draw() {
    const Part& part = *label_.part;
    draw_code();
    // Beside the code.
    const double left = room_.lo.x + kCode + 1.0;
    const double width = room_.hi.x - left;
    double y = room_.hi.y - kMark;
    const double mark_width = std::min(text_width(label_.mark, kMark), width);
    add_fitted(page_, label_.mark, {left, y}, kMark, width);
    add_fitted(page_, label_.which, {room_.hi.x, y}, kWords, width - mark_width - 2.0,
               Align::right);
    const Module* module = layout_.module(part.module);
    const std::string module_title =
        module == nullptr || module->title.empty() ? part.module : module->title;
    const std::string grain = part.stock.grain ? grain_words(layout_, part) : "";
    for (const std::string& words : {part.title, module_title, grain}) {
      if (words.empty()) continue;
      y -= kPitch;
      add_fitted(page_, words, {left, y}, kWords, width);
    }
    // Below it, over all of the width: no size and no id is cut short while there is room.
    std::vector<std::string> lines{stock_title(*layout_.catalogue, part.stock.key),
                                   size_words(layout_, part)};
    if (has_edge_band(layout_, part)) lines.back() += ", " + say("sawn.bare");
    const std::vector<std::string> id = lines_of(part.id, room_.width());
    lines.insert(lines.end(), id.begin(), id.end());
    y = room_.hi.y - kCode + 0.5;
    const auto most = static_cast<std::size_t>((y - room_.lo.y) / kClosePitch);
    for (; lines.size() > most; lines.pop_back()) *(lines.end() - 2) += lines.back();
    for (const std::string& line : lines) {
      y -= kClosePitch;
      add_fitted(page_, line, {room_.lo.x, y}, kWords, room_.width());
    }
  }

 private:
  void draw_code() {
    const auto code = qr_code(label_.part->id);
    if (!code) {
      double y = room_.hi.y - kWords;
      for (const char* words : {"label.no_code_1", "label.no_code_2"}) {
        add_fitted(page_, say(words), {room_.lo.x, y}, kWords, kCode);
        y -= kPitch;
      }
      return;
    }
    const double module = kCode / static_cast<double>(code->side + 2 * kQuietModules);
    const auto x = [&](std::size_t column) {
      return room_.lo.x + module * static_cast<double>(column + kQuietModules);
    };
    const auto y = [&](std::size_t row) {
      return room_.hi.y - module * static_cast<double>(row + kQuietModules);
    };
    // Dark modules side by side are one rectangle.
    for (std::size_t row = 0; row < code->side; ++row) {
      for (std::size_t from = 0; from < code->side;) {
        std::size_t to = from;
        while (to < code->side && code->at(row, to)) ++to;
        if (to > from) {
          page_.fills.push_back({.corners = {{x(from), y(row + 1)},
                                             {x(to), y(row + 1)},
                                             {x(to), y(row)},
                                             {x(from), y(row)}}});
        }
        from = to + 1;
      }
    }
  }

  Drawing& page_;
  const Layout& layout_;
  const Label& label_;
  Rect room_;
};

Drawing empty_page(const Layout& layout, const DrawingOptions& options, std::size_t number,
                   std::size_t of) {
  const PaperSize paper =
      size_of(layout.project.show == LengthStyle::inches ? Paper::letter : Paper::a4);
  Drawing page;
  page.format = paper.name;
  page.width = paper.width;
  page.height = paper.height;
  page.frame = {{kMargin, kMargin}, {paper.width - kMargin, paper.height - kMargin}};
  page.number = "labels-" + std::to_string(number);
  page.title = say("label.title", {{"project", layout.project.title},
                                   {"page", std::to_string(number)},
                                   {"all", std::to_string(of)}});
  const double foot = page.frame.hi.y - kHeading + 3.0;
  const std::string heading = say(
      options.not_for_cutting ? "label.not_for_cutting" : "label.heading", {{"title", page.title}});
  add_fitted(page, heading, {page.frame.lo.x, foot}, kWords, page.frame.width());
  return page;
}

}  // namespace

std::vector<Drawing> label_pages(const Layout& layout, const DrawingOptions& options) {
  const std::vector<Label> labels = labels_of(layout);
  std::vector<Drawing> pages;
  if (labels.empty()) return pages;
  const Drawing sample = empty_page(layout, options, 1, 1);
  const Rect area{sample.frame.lo, {sample.frame.hi.x, sample.frame.hi.y - kHeading}};
  const auto rows = static_cast<std::size_t>(area.height() / kLeastHeight);
  const std::size_t on_page = rows * kColumns;
  const double width = area.width() / static_cast<double>(kColumns);
  const double height = area.height() / static_cast<double>(rows);
  const std::size_t count = (labels.size() + on_page - 1) / on_page;
  for (std::size_t first = 0; first < labels.size(); first += on_page) {
    Drawing page = empty_page(layout, options, pages.size() + 1, count);
    const std::size_t here = std::min(on_page, labels.size() - first);
    const std::size_t used_rows = (here + kColumns - 1) / kColumns;
    const double foot = area.hi.y - height * static_cast<double>(used_rows);
    for (std::size_t row = 0; row <= used_rows; ++row) {
      const double y = area.hi.y - height * static_cast<double>(row);
      add_line(page, {area.lo.x, y}, {area.hi.x, y}, kPens.hidden());
    }
    for (std::size_t column = 0; column <= kColumns; ++column) {
      const double x = area.lo.x + width * static_cast<double>(column);
      add_line(page, {x, foot}, {x, area.hi.y}, kPens.hidden());
    }
    for (std::size_t i = 0; i < here; ++i) {
      const Vec2 corner{area.lo.x + width * static_cast<double>(i % kColumns),
                        area.hi.y - height * static_cast<double>(i / kColumns + 1)};
      Sticker(page, layout, labels[first + i], {corner, corner + Vec2{width, height}}).draw();
    }
    pages.push_back(std::move(page));
  }
  return pages;
}

Result<OutputFiles> label_files(const Layout& layout, const DrawingOptions& options) {
  std::vector<PdfPage> pages;
  const std::vector<Drawing> drawings = label_pages(layout, options);
  for (const Drawing& page : drawings) pages.push_back({page.number, &page});
  if (pages.empty()) return OutputFiles{};
  Result<std::string> pdf =
      pdf_document(pages, {layout.project.name + " labels", layout.project.date});
  if (!pdf) return fail(pdf.error());
  return OutputFiles{{"shop/labels.pdf", std::move(*pdf), say("file.labels")}};
}

}  // namespace ribbay

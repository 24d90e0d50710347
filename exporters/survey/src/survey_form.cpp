#include "survey/survey_form.hpp"

#include "form_page.hpp"
#include "pdf/pdf.hpp"
#include "sketches.hpp"

#include <algorithm>
#include <span>
#include <string_view>

namespace ribbay {

using namespace detail;

namespace {

constexpr double kRow = 7.0;      // of a blank: room for a figure written in a cold van
constexpr double kGap = 6.0;      // between columns
constexpr double kListGap = 1.5;  // below a list

// Common practice, no source.
constexpr std::string_view kSteps[] = {
    "Empty the van, park it level with its doors closed, and chalk a centre line on the floor from "
    "the middle of the rear sill to the middle of the partition foot.",
    "All lengths along the van start at the rear edge of the load floor: hook the tape on the sill "
    "there. Mark each station across floor and walls with a straight edge. Take stations where the "
    "walls change: rear sill, behind and in front of the arches, door posts, partition face.",
    "Level the heights across both walls, then measure left and right from the centre line, and "
    "wall "
    "to wall in one pull. The three check each other, and so do the diagonals.",
    "Measure one surface everywhere: bare skin, rib face or lining. Say which, and how far a "
    "figure "
    "may be out, above.",
    "Measure everything twice, the second time from the other end of the list. Strike out what the "
    "van does not have. The thickness of the floor or its layers: one of the two will do."};

constexpr std::string_view kCautions[] = {
    "Stand only in a van that stands on its wheels, brake on and wheels chocked. Never work in or "
    "under one on a jack.",
    "Sheet edges and rib ends cut: wear gloves, and glasses when you measure overhead.",
    "The plate, the van's papers and local rules say what it may carry; weigh it on a "
    "weighbridge."};

/// Draws the form page by page.
class FormMaker {
 public:
  explicit FormMaker(const SurveyOptions& options)
      : options_(options), tables_(survey_blanks(options)), numbers_(tables_) {
    const Rect body = body_of(form_page(options_, 1, 1));
    // Two stations share a page as long as each row leaves room to write.
    const double least = 33.0 + 7.5 * options_.heights;
    per_page_ = 2.0 * least + kGap <= body.height() ? 2 : 1;
    set_lists(body.height());
    pages_ = 2 + (options_.stations + per_page_ - 1) / per_page_ +
             static_cast<int>(pages_of(columns_.size()));
  }

  std::vector<Drawing> make() {
    start();
    sketches();
    stations();
    lists();
    return std::move(done_);
  }

 private:
  Drawing& open() {
    return done_.emplace_back(form_page(options_, static_cast<int>(done_.size()) + 1, pages_));
  }
  const BlankTable& table(std::string_view name) const {
    return *std::ranges::find(tables_, name, &BlankTable::name);
  }

  void start() {
    Drawing& d = open();
    const Rect body = body_of(d);
    const double column = (body.width() - kGap) / 2;
    const Vec2 second = {body.lo.x + column + kGap, body.hi.y};
    double left = add_blanks(d, table("vehicle"), {body.lo.x, body.hi.y}, column, kRow + 1.0);
    left = add_list(d, "Take care", kCautions, {body.lo.x, left - 4.0}, column, false);
    const double right = add_list(d, "How to measure", kSteps, second, column, true);
    const double top = std::min(left, right) - 4.0;
    add_plan_sketch(d, {{body.lo.x, top - 105.0}, {body.hi.x, top}}, numbers_, options_.stations);
  }

  static double add_list(Drawing& d, const std::string& title,
                         std::span<const std::string_view> entries, Vec2 at, double width,
                         bool numbered) {
    add_text(d, title, at - Vec2{0, 4.9}, 3.0);
    double y = at.y - 6.5;
    int number = 0;
    for (const std::string_view entry : entries) {
      add_text(d, numbered ? std::to_string(++number) : "!", {at.x, y - 3.2}, 2.5);
      y = add_paragraph(d, std::string(entry), {at.x + 5.0, y}, width - 5.0, 2.5) - 1.0;
    }
    return y;
  }

  void sketches() {
    Drawing& d = open();
    const Rect body = body_of(d);
    add_side_sketch(d, {{body.lo.x, body.hi.y - 125.0}, body.hi}, numbers_);
    add_section_sketch(d, {body.lo, {body.hi.x, body.hi.y - 131.0}}, numbers_);
  }

  void stations() {
    Drawing* d = nullptr;
    for (int s = 0; s < options_.stations; ++s) {
      if (s % per_page_ == 0) d = &open();
      const Rect body = body_of(*d);
      const double height = (body.height() - kGap * (per_page_ - 1)) / per_page_;
      const double top = body.hi.y - (height + kGap) * (s % per_page_);
      const std::string name = "s" + std::to_string(s + 1);
      add_station(*d, table("station." + name), table("diagonal.across_" + name),
                  {{body.lo.x, top - height}, {body.hi.x, top}});
    }
  }

  /// Everything that is neither on the first page nor with a station, in the order of its numbers.
  std::vector<const BlankTable*> listed() const {
    std::vector<const BlankTable*> all;
    for (const BlankTable& t : tables_) {
      if (t.name == "vehicle" || t.name.starts_with("station.") ||
          t.name.starts_with("diagonal.across_")) {
        continue;
      }
      all.push_back(&t);
    }
    return all;
  }

  using Column = std::vector<const BlankTable*>;

  /// The lists in columns of at most this height, which are filled one after the other.
  std::vector<Column> columns(double row, double height) const {
    std::vector<Column> all(1);
    double left = height;
    for (const BlankTable* t : listed()) {
      const double needed = height_of_blanks(*t, row) + kListGap;
      if (needed > left && !all.back().empty()) {
        all.emplace_back();
        left = height;
      }
      all.back().push_back(t);
      left -= needed;
    }
    return all;
  }

  /// Rows as high as they can be without another page.
  void set_lists(double height) {
    list_row_ = kRow;
    const std::size_t fewest = pages_of(columns(kRow, height).size());
    while (list_row_ < 1.3 * kRow && pages_of(columns(list_row_ + 0.1, height).size()) == fewest)
      list_row_ += 0.1;
    columns_ = columns(list_row_, height);
  }
  static std::size_t pages_of(std::size_t columns) { return (columns + 1) / 2; }

  void lists() {
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      Drawing& d = c % 2 == 0 ? open() : done_.back();
      const Rect body = body_of(d);
      const double width = (body.width() - kGap) / 2;
      Vec2 at{body.lo.x + (c % 2 == 0 ? 0.0 : width + kGap), body.hi.y};
      for (const BlankTable* t : columns_[c])
        at.y = add_blanks(d, *t, at, width, list_row_) - kListGap;
    }
  }

  SurveyOptions options_;
  std::vector<BlankTable> tables_;
  Numbers numbers_;
  int per_page_ = 1;
  int pages_ = 1;
  double list_row_ = kRow;
  std::vector<Column> columns_;
  std::vector<Drawing> done_;
};

}  // namespace

std::vector<Drawing> survey_form(const SurveyOptions& options) {
  return FormMaker(options).make();
}

Result<OutputFiles> survey_files(const SurveyOptions& options) {
  OutputFiles files;
  std::vector<PdfPage> pages;
  const std::vector<Drawing> form = survey_form(options);
  for (const Drawing& page : form) {
    const std::string path = page.number + ".svg";
    files.push_back({path, svg(page), "page of the measuring form"});
    pages.push_back({path, &page});
  }
  Result<std::string> pdf = pdf_document(pages, {"Measuring form", ""});
  if (!pdf) return tl::unexpected(pdf.error());
  files.insert(files.begin(), {"form.pdf", std::move(*pdf), "the measuring form"});
  files.push_back({"survey.toml", survey_file(options), "the same blanks, to type in"});
  return files;
}

}  // namespace ribbay

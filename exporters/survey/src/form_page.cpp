#include "form_page.hpp"

#include "drawings/lettering.hpp"
#include "drawings/sheet.hpp"
#include "numbered.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kMargin = 12.0;   // home printers leave up to 6 mm blank
constexpr double kHeading = 11.0;  // height of the heading's band
constexpr double kTitle = 6.5;     // height of the title of a list
constexpr double kNumber = 9.0;    // width of the column of numbers
constexpr double kWords = 2.5;     // height of ordinary letters

double text_foot(double row_foot, double row, double height) {
  return row_foot + (row - height) / 2;
}

}  // namespace

Drawing form_page(const SurveyOptions& options, int page, int pages) {
  const PaperSize size = size_of(options.paper);
  Drawing d;
  d.format = size.name;
  d.width = size.width;
  d.height = size.height;
  d.frame = {{kMargin, kMargin}, {size.width - kMargin, size.height - kMargin}};
  d.number = "form-" + std::to_string(page);
  d.title = "Measuring form, page " + std::to_string(page) + " of " + std::to_string(pages);
  const double foot = d.frame.hi.y - kHeading;
  add_text(d, "Measuring form", {d.frame.lo.x, foot + 4.0}, 5.0);
  add_text(d, "Van:", {d.frame.lo.x + 62.0, foot + 4.0}, kWords);
  add_line(d, {d.frame.lo.x + 71.0, foot + 3.0}, {d.frame.lo.x + 113.0, foot + 3.0},
           kFormPens.thin());
  add_text(d, "Date:", {d.frame.lo.x + 117.0, foot + 4.0}, kWords);
  add_line(d, {d.frame.lo.x + 127.0, foot + 3.0}, {d.frame.lo.x + 150.0, foot + 3.0},
           kFormPens.thin());
  const std::string unit = options.unit == LengthStyle::inches ? "inches" : "mm";
  add_text(d, "in " + unit + ", page " + std::to_string(page) + "/" + std::to_string(pages),
           {d.frame.hi.x, foot + 4.0}, kWords, Align::right);
  add_line(d, {d.frame.lo.x, foot}, {d.frame.hi.x, foot}, kFormPens.visible());
  return d;
}

Rect body_of(const Drawing& page) {
  return {page.frame.lo, {page.frame.hi.x, page.frame.hi.y - kHeading - 2.0}};
}

double add_paragraph(Drawing& d, const std::string& text, Vec2 at, double width, double height) {
  const double pitch = height * 1.6;
  double y = at.y;
  std::string line;
  const auto flush = [&] {
    y -= pitch;
    add_text(d, line, {at.x, y + 0.3 * height}, height);
    line.clear();
  };
  for (const std::string& word : split(text, ' ')) {
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && text_width(longer, height) > width) {
      flush();
      line = word;
    } else {
      line = longer;
    }
  }
  if (!line.empty()) flush();
  return y;
}

double height_of_blanks(const BlankTable& table, double row) {
  const auto asked = std::ranges::count_if(
      table.fields, [](const BlankField& field) { return !field.blanks.empty(); });
  return kTitle + row * static_cast<double>(asked);
}

double add_blanks(Drawing& d, const BlankTable& table, Vec2 at, double width, double row) {
  add_text(d, table.title, {at.x, at.y - kTitle + 1.6}, 3.0);
  const double top = at.y - kTitle;
  const double write = at.x + width * 0.62;
  double y = top;
  for (const BlankField& field : table.fields) {
    if (field.blanks.empty()) continue;
    const Blank& blank = field.blanks.front();
    y -= row;
    add_text(d, std::to_string(blank.number), {at.x + kNumber - 1.5, text_foot(y, row, kWords)},
             kWords, Align::right);
    add_fitted(d, blank.label, {at.x + kNumber + 1.2, text_foot(y, row, kWords)}, kWords,
               write - at.x - kNumber - 2.4);
    add_line(d, {at.x, y}, {at.x + width, y}, kFormPens.thin());
  }
  for (const double x : {at.x + kNumber, write}) add_line(d, {x, y}, {x, top}, kFormPens.thin());
  add_rect(d, {{at.x, y}, {at.x + width, top}}, kFormPens.visible());
  return y;
}

namespace {

const BlankField& field_of(const BlankTable& table, const std::string& key) {
  return *std::ranges::find(table.fields, key, &BlankField::key);
}

/// A cell with the number of its blank in the upper left corner and room for a figure.
void number_cell(Drawing& d, const Rect& cell, int number) {
  add_text(d, std::to_string(number), {cell.lo.x + 1.0, cell.hi.y - 2.9}, 2.0);
}

}  // namespace

void add_station(Drawing& d, const BlankTable& station, const BlankTable& across,
                 const Rect& area) {
  constexpr double band = 9.0;    // of x above and the crosswise diagonal below
  constexpr double heads = 6.0;   // of the columns' heads
  constexpr double names = 16.0;  // of the rows' names
  const BlankField& heights = field_of(station, "heights");
  const int rows = static_cast<int>(heights.blanks.size()) + 1;
  const double row = std::min((area.height() - kTitle - 2.0 * band - heads) / rows, 11.0);
  const Pen thin = kFormPens.thin();
  add_text(d, station.title, {area.lo.x, area.hi.y - kTitle + 1.6}, 3.5);
  double y = area.hi.y - kTitle;
  const double left = area.lo.x;
  const double right = area.hi.x;
  const double column = (right - left - names) / 4.0;
  const double top = y;
  const auto wide_row = [&](const Blank& blank, double width, double from) {
    add_text(d, std::to_string(blank.number), {from + 1.0, y - 2.9}, 2.0);
    add_fitted(d, blank.label, {from + 8.0, text_foot(y - band, band, kWords)}, kWords, width);
  };
  wide_row(field_of(station, "x").blanks.front(), names + 2 * column - 10.0, left);
  add_line(d, {left + names + 2 * column, y}, {left + names + 2 * column, y - band}, thin);
  y -= band;
  add_line(d, {left, y}, {right, y}, thin);
  const char* const titles[] = {"Height", "Left half width", "Right half width", "Wall to wall"};
  for (int c = 0; c < 4; ++c) {
    add_text(d, titles[c], {left + names + column * (c + 0.5), text_foot(y - heads, heads, kWords)},
             kWords, Align::centre);
  }
  y -= heads;
  for (int r = rows - 1; r >= 0; --r) {
    add_line(d, {left, y}, {right, y}, r == rows - 1 ? kFormPens.visible() : thin);
    const std::string name = r == 0          ? "floor"
                             : r == rows - 1 ? std::to_string(r + 1) + " roof"
                                             : std::to_string(r + 1);
    add_text(d, name, {left + 1.5, text_foot(y - row, row, kWords)}, kWords);
    const auto cell = [&](int c, const Blank& blank) {
      number_cell(d, {{left + names + column * c, y - row}, {left + names + column * (c + 1), y}},
                  blank.number);
    };
    const auto index = static_cast<std::size_t>(r);
    if (r == 0) {
      add_text(d, "0", {left + names + column / 2, text_foot(y - row, row, kWords)}, kWords,
               Align::centre);
    } else {
      cell(0, heights.blanks[index - 1]);
    }
    cell(1, field_of(station, "left").blanks[index]);
    cell(2, field_of(station, "right").blanks[index]);
    cell(3, field_of(station, "full").blanks[index]);
    y -= row;
  }
  for (int c = 0; c < 4; ++c)
    add_line(d, {left + names + column * c, y}, {left + names + column * c, top - band}, thin);
  add_line(d, {left, y}, {right, y}, kFormPens.visible());
  // The crosswise diagonal: which height it ends at, and how long it is.
  const double middle = (left + right) / 2;
  wide_row(field_of(across, "to.height").blanks.front(), 48.0, left);
  wide_row(field_of(across, "length").blanks.front(), 48.0, middle);
  add_line(d, {middle, y}, {middle, y - band}, thin);
  y -= band;
  add_rect(d, {{left, y}, {right, top}}, kFormPens.visible());
}

}  // namespace ribbay::detail

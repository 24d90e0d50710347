#include "drawings/sheet.hpp"

#include "base/wording.hpp"
#include "drawings/lettering.hpp"

#include <cmath>

namespace ribbay {

namespace {

// ISO 5457 (from memory): trimmed sizes of ISO 216; border 20 on the left, 10 elsewhere; frame 0.7
// wide; reference border 5 wide with fields of 50 from the axes of symmetry, letters 3.5; centring
// marks 0.7.
constexpr double kLeftBorder = 20.0;
constexpr double kBorder = 10.0;
constexpr double kReference = 5.0;
constexpr double kField = 50.0;
constexpr Pen kFramePen{LineType::continuous, 0.7};
constexpr Pen kBorderPen{LineType::continuous, 0.35};

// ISO 7200 (from memory): the title block is 180 wide, so that it fits an upright A4.
constexpr double kTitleWidth = 180.0;
constexpr double kTitleRow = 9.0;
constexpr double kTitleHeight = 4 * kTitleRow;

constexpr double kSmallest = 1.8;  // smallest letter height of ISO 3098-1 (from memory)

struct PageFormat {
  const char* name;
  double width;
  double height;
};
constexpr PageFormat kFormats[] = {
    {"A4", 210, 297}, {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}};

void border_line(Drawing& d, Vec2 a, Vec2 b, Pen pen) {
  d.lines.push_back({a, b, pen, -1, true});
}

/// Reference letters and figures along both pairs of edges.
void add_references(Drawing& d) {
  static constexpr const char* letters = "ABCDEFGHJKLMNPQRSTUVWXYZ";  // no I, no O
  const auto fields = [](double length) {
    return std::max(2, static_cast<int>(std::lround(length / kField / 2)) * 2);
  };
  const auto mark = [&](const std::string& text, Vec2 middle) {
    const double h = text.size() > 1 ? 2.5 : 3.5;
    d.texts.push_back({text, middle - Vec2{0, h / 2}, h, Align::centre, false, true});
  };
  const Rect f = d.frame;
  const int across = fields(f.width());
  for (int i = 0; i < across; ++i) {
    const double x0 = i == 0 ? f.lo.x : f.centre().x + (i - across / 2) * kField;
    const double x1 = i == across - 1 ? f.hi.x : f.centre().x + (i + 1 - across / 2) * kField;
    for (const double y : {f.hi.y, f.lo.y - kReference}) {
      mark(std::to_string(i + 1), {(x0 + x1) / 2, y + kReference / 2});
      if (i > 0 && i != across / 2) border_line(d, {x0, y}, {x0, y + kReference}, kBorderPen);
    }
  }
  const int up = fields(f.height());
  for (int i = 0; i < up; ++i) {
    const double y1 = i == 0 ? f.hi.y : f.centre().y - (i - up / 2) * kField;
    const double y0 = i == up - 1 ? f.lo.y : f.centre().y - (i + 1 - up / 2) * kField;
    for (const double x : {f.hi.x, f.lo.x - kReference}) {
      mark(std::string(1, letters[i]), {x + kReference / 2, (y0 + y1) / 2});
      if (i > 0 && i != up / 2) border_line(d, {x, y1}, {x + kReference, y1}, kBorderPen);
    }
  }
}

void add_frame(Drawing& d) {
  add_rect(d, d.frame, kFramePen);
  const Rect outer = grown(d.frame, kReference);
  const Vec2 corners[] = {outer.lo, {outer.hi.x, outer.lo.y}, outer.hi, {outer.lo.x, outer.hi.y}};
  for (int i = 0; i < 4; ++i) border_line(d, corners[i], corners[(i + 1) % 4], kBorderPen);
  const Vec2 c = d.frame.centre();
  border_line(d, {c.x, outer.hi.y}, {c.x, d.frame.hi.y}, kFramePen);
  border_line(d, {c.x, outer.lo.y}, {c.x, d.frame.lo.y}, kFramePen);
  border_line(d, {outer.lo.x, c.y}, {d.frame.lo.x, c.y}, kFramePen);
  border_line(d, {outer.hi.x, c.y}, {d.frame.hi.x, c.y}, kFramePen);
  add_references(d);
}

/// The sign of ISO 5456-2 (from memory): a truncated cone, and its small end seen from the left.
void add_projection_symbol(Drawing& d, Vec2 middle, bool first_angle) {
  constexpr double h = 1.9;  // radius of the large end
  const Pen wide{LineType::continuous, 0.35};
  const Pen axis{LineType::chain, 0.18};
  const double cone = middle.x + (first_angle ? -3.6 : 3.6);
  const double ring = middle.x + (first_angle ? 3.6 : -3.6);
  const Vec2 corners[] = {{cone - h, middle.y - h / 2},
                          {cone + h, middle.y - h},
                          {cone + h, middle.y + h},
                          {cone - h, middle.y + h / 2}};
  for (int i = 0; i < 4; ++i) add_line(d, corners[i], corners[(i + 1) % 4], wide);
  add_circle(d, {ring, middle.y}, h / 2, wide);
  add_circle(d, {ring, middle.y}, h, wide);
  for (const double x : {cone, ring})
    add_line(d, {x - h - 0.6, middle.y}, {x + h + 0.6, middle.y}, axis);
  add_line(d, {ring, middle.y - h - 0.6}, {ring, middle.y + h + 0.6}, axis);
}

void add_title_block(Drawing& d, const TitleBlock& b) {
  const Rect area = title_area(d);
  const Pen line{LineType::continuous, 0.35};
  add_line(d, {area.lo.x, area.hi.y}, area.hi, kFramePen);
  if (area.lo.x > d.frame.lo.x + 0.1) add_line(d, area.lo, {area.lo.x, area.hi.y}, kFramePen);
  const auto cell = [&](double x, double row, double width, const char* field,
                        const std::string& value, double height = 2.5, double rows = 1) {
    const Rect r{area.lo + Vec2{x, row * kTitleRow},
                 area.lo + Vec2{x + width, (row + rows) * kTitleRow}};
    if (x + width < kTitleWidth - 0.1) add_line(d, {r.hi.x, r.lo.y}, r.hi, line);
    if (row > 0) add_line(d, r.lo, {r.hi.x, r.lo.y}, line);
    add_fitted(d, say("block." + std::string(field)), {r.lo.x + 1.2, r.hi.y - 2.8}, kSmallest,
               width - 2.4);
    add_fitted(d, value, {r.lo.x + 1.2, r.lo.y + 1.6}, height, width - 2.4);
    return r;
  };
  cell(0, 3, 60, "owner", b.owner);
  const Rect title = cell(60, 2, 70, "title", b.subtitle, 2.5, 2);
  add_fitted(d, b.title, {title.lo.x + 1.2, title.lo.y + 7.0}, 5.0, title.width() - 2.4);
  cell(130, 3, 50, "number", b.number, 3.5);
  cell(0, 2, 30, "creator", b.creator);
  cell(30, 2, 30, "approver", "");
  cell(130, 2, 50, "type", b.type);
  cell(0, 1, 60, "material", b.material);
  cell(60, 1, 42, "stock", b.stock);
  cell(102, 1, 28, "finish", b.finish);
  cell(130, 1, 25, "scale", b.scale, 3.5);
  cell(155, 1, 25, "mass", b.mass);
  // ISO 2768-1, class m: the general tolerance that the whole set is drawn for.
  cell(0, 0, 30, "tolerances", "ISO 2768-m");
  cell(30, 0, 30, "date", b.date);
  const Rect symbol = cell(60, 0, 26, "projection", "");
  add_projection_symbol(d, {symbol.centre().x, symbol.lo.y + 3.0}, b.first_angle);
  cell(86, 0, 18, "sizes", say(b.show == LengthStyle::millimetres ? "unit.mm" : "unit.inch"));
  cell(104, 0, 26, "quantity", b.quantity, 3.5);
  cell(130, 0, 34, "status", b.status);
  cell(164, 0, 16, "sheet", b.sheet);
}

}  // namespace

Rect title_area(const Drawing& drawing) {
  const Vec2 corner{drawing.frame.hi.x, drawing.frame.lo.y};
  return {corner - Vec2{kTitleWidth, 0}, corner + Vec2{0, kTitleHeight}};
}

Drawing new_page(PageSize size, const TitleBlock& block) {
  const PageFormat& format = kFormats[static_cast<std::size_t>(size)];
  Drawing d;
  d.format = format.name;
  d.width = format.width;
  d.height = format.height;
  d.frame = {{kLeftBorder, kBorder}, {format.width - kBorder, format.height - kBorder}};
  d.title = block.number + " " + block.title;
  d.number = block.number;
  add_frame(d);
  d.texts.push_back({d.format, {d.frame.hi.x, 1.6}, 2.5, Align::right, false, true});
  add_title_block(d, block);
  d.reserved.push_back(title_area(d));
  return d;
}

double scale_below(double need) {
  double best = 1e-4;
  for (const double decade : {1e-3, 1e-2, 1e-1, 1.0, 10.0}) {
    for (const double step : {1.0, 2.0, 5.0}) {
      if (decade * step <= need * (1.0 + 1e-9)) best = decade * step;
    }
  }
  return best;
}

std::string scale_text(double scale) {
  return scale >= 1.0 ? rounded_text(scale, 0) + ":1" : "1:" + rounded_text(1.0 / scale, 0);
}

std::string figure_title(const std::string& view, double scale) {
  return say("view.scaled", {{"view", view}, {"scale", scale_text(scale)}});
}

void add_stamp(Drawing& d) {
  const std::string text = say("not_for_cutting");
  const double height = 7.0;
  const double width = text_width(text, height);
  const Vec2 top{d.frame.lo.x + 6.0, d.frame.hi.y - 6.0};
  const Rect box{{top.x, top.y - height - 6.0}, {top.x + width + 8.0, top.y}};
  d.texts.push_back(
      {text, {box.lo.x + 4.0, box.lo.y + 3.0}, height, Align::left, false, false, "#c00000"});
  add_rect(d, box, {LineType::continuous, 0.7});
  // A band over the whole width, so that no view runs up beside the stamp.
  d.reserved.push_back({{d.frame.lo.x, box.lo.y - 2.0}, d.frame.hi});
}

double Table::width() const {
  double sum = 0.0;
  for (const Column& c : columns) sum += c.width;
  return sum;
}

void add_fitted(Drawing& d, const std::string& text, Vec2 at, double height, double width,
                Align align) {
  // ISO 3098-1 heights (from memory).
  for (const double h : {5.0, 3.5, 2.5, kSmallest}) {
    if (h > height + 0.01) continue;
    if (text_width(text, h) <= width) return add_text(d, text, at, h, align);
  }
  std::string cut = text;
  do {
    // Whole UTF-8 characters only.
    while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U)
      cut.pop_back();
    if (!cut.empty()) cut.pop_back();
  } while (!cut.empty() && text_width(cut + "…", kSmallest) > width);
  add_text(d, cut + "…", at, kSmallest, align);
}

void add_table(Drawing& d, const Table& table, Vec2 corner) {
  const Pen thin{LineType::continuous, 0.18};
  const Pen outline{LineType::continuous, 0.35};
  const double foot = corner.y - table.total_height();
  const std::size_t n = table.rows.size() + 1;
  // Line 0 is the heading: at the top, or at the foot.
  const auto row_foot = [&](std::size_t line) {
    return table.upwards ? foot + table.row * static_cast<double>(line)
                         : corner.y - table.row * static_cast<double>(line + 1);
  };
  const auto fill = [&](std::size_t line, auto&& text_of) {
    double x = corner.x;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
      const Column& column = table.columns[c];
      const double at = column.align == Align::left    ? x + 1.2
                        : column.align == Align::right ? x + column.width - 1.2
                                                       : x + column.width / 2;
      add_fitted(d, text_of(c), {at, row_foot(line) + (table.row - table.height) / 2}, table.height,
                 column.width - 2.4, column.align);
      x += column.width;
    }
  };
  fill(0, [&](std::size_t c) { return table.columns[c].title; });
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    fill(r + 1, [&](std::size_t c) {
      return c < table.rows[r].size() ? table.rows[r][c] : std::string();
    });
  }
  for (std::size_t line = 1; line < n; ++line) {
    const double y = foot + table.row * static_cast<double>(line);
    const bool heading = line == (table.upwards ? 1 : n - 1);
    add_line(d, {corner.x, y}, {corner.x + table.width(), y}, heading ? outline : thin);
  }
  double x = corner.x;
  for (std::size_t c = 0; c + 1 < table.columns.size(); ++c) {
    x += table.columns[c].width;
    add_line(d, {x, foot}, {x, corner.y}, thin);
  }
  add_rect(d, {{corner.x, foot}, {corner.x + table.width(), corner.y}}, outline);
}

}  // namespace ribbay

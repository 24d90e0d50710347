#include "template_pages.hpp"

#include "base/wording.hpp"
#include "drawings/face_note.hpp"
#include "drawings/holes.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/sheet.hpp"
#include "drawings/views.hpp"
#include "print_page.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace ribbay::detail {

namespace {

constexpr double kSquare = 100.0;                 ///< side of the check square, mm
constexpr double kSmallSquares[] = {50.0, 25.0};  ///< where that finds no room
constexpr Pen kEdge{LineType::continuous, 0.5};
constexpr Pen kHair{LineType::continuous, 0.18};
constexpr Pen kHairBehind{LineType::dashed, 0.18};
constexpr Pen kWorked{LineType::continuous, 0.35};
constexpr Pen kWorkedBehind{LineType::dashed, 0.25};
constexpr Pen kFold{LineType::chain, 0.25};
constexpr Pen kCutHere{LineType::dashed, 0.25};
constexpr double kCross = 4.0;  ///< arms of a cross

/// What is laid on paper: a window of the part, at true size.
struct Sheet {
  Drawing& d;
  Rect window;
  Vec2 shift;  ///< from the part to the paper

  Vec2 paper(Vec2 p) const { return p + shift; }
};

/// True when the ink of the part runs through the rectangle.
bool crossed(const Drawing& d, const Rect& rect) {
  for (const InkLine& line : d.lines) {
    if (crosses(line.a, line.b, rect)) return true;
  }
  for (const InkArc& arc : d.arcs) {
    const std::vector<Vec2> points = arc.polyline();
    for (std::size_t i = 1; i < points.size(); ++i) {
      if (crosses(points[i - 1], points[i], rect)) return true;
    }
  }
  return false;
}

Drawn folds_of(const TrueOutline& outline) {
  Drawn folds;
  for (const BendMark& bend : outline.panel.bends) folds.lines.push_back({bend.a, bend.b});
  return folds;
}

/// Holes in the faces, each with a cross; those bored from the far face count as hidden.
Drawn holes_of(const TrueOutline& outline) {
  Drawn holes;
  for (const PanelHole& hole : outline.panel.holes) {
    if (hole.face.size() > 1) continue;
    const double r = hole.bore.diameter / 2;
    holes.arcs.push_back({hole.at, {r, 0}, {0, r}, 0.0, 2.0 * std::numbers::pi, hole.face == "A"});
    for (const Vec2 arm : {Vec2{r + 2.0, 0}, Vec2{0, r + 2.0}})
      holes.lines.push_back({hole.at - arm, hole.at + arm});
  }
  return holes;
}

void draw_part(const Sheet& sheet, const TemplateJob& job) {
  Drawing& d = sheet.d;
  const ViewPlace place =
      open_view(d, {{sheet.paper(sheet.window.lo), sheet.paper(sheet.window.hi)},
                    axis_map(0.0, sheet.shift.x, 1.0),
                    axis_map(0.0, sheet.shift.y, 1.0)});
  const Drawn edges = clipped(job.outline.drawn, sheet.window);
  add_view(d, edges, place, kEdge, kEdge);
  add_view(d, clipped(job.outline.worked, sheet.window), place, kWorked, kWorkedBehind);
  for (const DrawnLine& fold : clipped(folds_of(job.outline), sheet.window).lines)
    add_line(d, sheet.paper(fold.a), sheet.paper(fold.b), kFold);
  add_view(d, clipped(holes_of(job.outline), sheet.window), place, kHair, kHairBehind);
}

/// How long the sides of a check square are, with what a rule in inches shows: 3 15/16 in are
/// 100.01 mm, 1 31/32 in 50.01 mm, 63/64 in 25.00 mm.
std::string square_text(const TemplateJob& job, double side) {
  const std::string mm = length_text(side, LengthStyle::millimetres);
  if (job.layout.project.show == LengthStyle::millimetres)
    return say("template.square", {{"side", mm}});
  return say("template.square_inches", {{"side", mm},
                                        {"inches", side > 99.0   ? "3 15/16"
                                                   : side > 49.0 ? "1 31/32"
                                                                 : "63/64"}});
}

void draw_square(Drawing& d, const TemplateJob& job, Vec2 corner, double side) {
  add_rect(d, {corner, corner + Vec2{side, side}}, kHair);
  const double letters = side < 40.0 ? 2.0 : kWord;
  const std::string lines[] = {say("template.check"), say("template.no_cut"),
                               square_text(job, side)};
  double y = corner.y + side / 2 + letters;
  for (const std::string& line : lines) {
    add_fitted(d, line, {corner.x + side / 2, y}, letters, side - 3.0, Align::centre);
    y -= 1.8 * letters;
  }
}

/// Where a square finds room clear of all ink, beside the part or on it.
std::optional<Vec2> square_spot(const Sheet& sheet, const TemplateJob& job, const Rect& image,
                                double side, bool beside) {
  constexpr double border = 7.0;  // inside of the lines to cut along
  const Vec2 free = image.hi - image.lo - Vec2{side + 2 * border, side + 2 * border};
  for (double y = 0.0; y <= free.y; y += 4.0) {
    for (double x = 0.0; x <= free.x; x += 4.0) {
      const Vec2 at = image.lo + Vec2{border + x, border + y};
      const Vec2 middle = at + Vec2{side / 2, side / 2};
      if (beside == is_within(job.outline, middle - sheet.shift)) continue;
      if (!crossed(sheet.d, grown({at, at + Vec2{side, side}}, 1.0))) return at;
    }
  }
  return std::nullopt;
}

/// The check square, beside the part where the sheet has room for it, of a smaller size where it
/// has none else. Returns its side.
double add_square(const Sheet& sheet, const TemplateJob& job, const Rect& image) {
  const auto put = [&](double side, bool beside) {
    const auto spot = square_spot(sheet, job, image, side, beside);
    if (spot) draw_square(sheet.d, job, *spot, side);
    return spot.has_value();
  };
  for (const bool beside : {true, false}) {
    if (put(kSquare, beside)) return kSquare;
  }
  for (const double side : kSmallSquares) {
    for (const bool beside : {true, false}) {
      if (put(side, beside)) return side;
    }
  }
  return 0.0;
}

void add_cross(Drawing& d, Vec2 at) {
  const auto arm = [&](Vec2 reach) {
    // Arms stay on the sheet.
    const auto held = [&](Vec2 p) {
      return Vec2{std::clamp(p.x, d.frame.lo.x, d.frame.hi.x),
                  std::clamp(p.y, d.frame.lo.y, d.frame.hi.y)};
    };
    add_line(d, held(at - reach), held(at + reach), kHair);
  };
  arm({kCross, 0});
  arm({0, kCross});
}

Drawing empty_page(const TemplateJob& job, const std::string& title) {
  Drawing d = print_page(job.options.template_paper, title);
  const Rect image = job.tiling.image;
  d.frame = {{image.lo.x, image.lo.x}, image.hi};
  d.number = job.type.mark;
  return d;
}

std::string title_of(const TemplateJob& job) {
  return job.type.mark + " " + job.part.title;
}

void add_stamp_at(Drawing& d, Vec2 right_foot) {
  InkText stamp{say("not_for_cutting"), right_foot, kFigure, Align::right};
  stamp.colour = "#c00000";
  d.texts.push_back(stamp);
}

/// The foot of a sheet: which it is, and what it joins.
void add_foot(Drawing& d, const TemplateJob& job, Tile tile, double square) {
  const Rect image = job.tiling.image;
  const double y = d.frame.lo.y;
  add_line(d, {image.lo.x, image.lo.y - 2.0}, {image.hi.x, image.lo.y - 2.0}, kHair);
  add_text(d, name_of(tile), {image.lo.x + 1.0, y + 4.0}, kBig);
  const double x = image.lo.x + text_width(name_of(tile), kBig) + 8.0;
  const double stamp = job.options.not_for_cutting ? 68.0 : 0.0;
  add_sized(d,
            say("template.tile",
                {{"part", title_of(job)},
                 {"column", name_of(tile).substr(0, name_of(tile).find_first_of("0123456789"))},
                 {"row", std::to_string(tile.row + 1)}}),
            {x, y + 8.0}, kFigure, image.hi.x - x - stamp);
  std::vector<std::string> joins;
  const auto join_to = [&](const char* side, Tile other) {
    if (job.tiling.printed(other)) joins.push_back(say(side, {{"sheet", name_of(other)}}));
  };
  join_to("template.left", {tile.column - 1, tile.row});
  join_to("template.right", {tile.column + 1, tile.row});
  join_to("template.below", {tile.column, tile.row - 1});
  join_to("template.above", {tile.column, tile.row + 1});
  add_sized(d,
            joins.empty() ? say("template.alone", {{"square", square_text(job, square)}})
                          : say("template.joins", {{"sheets", join(joins, ", ")},
                                                   {"square", square_text(job, square)}}),
            {x, y + 1.0}, kWord, image.hi.x - x);
  if (job.options.not_for_cutting) add_stamp_at(d, {image.hi.x, y + 8.0});
}

/// Lines to cut along and lay on, where another sheet joins, with crosses at both ends and between.
void add_joins(const Sheet& sheet, const TemplateJob& job, Tile tile) {
  const Rect cell = job.tiling.cell(tile);
  const auto edge = [&](Vec2 a, Vec2 b, Tile other) {
    if (!job.tiling.printed(other)) return;
    add_line(sheet.d, sheet.paper(a), sheet.paper(b), kCutHere);
    for (const double at : {0.0, 0.5, 1.0}) add_cross(sheet.d, sheet.paper(a + (b - a) * at));
  };
  edge(cell.lo, {cell.lo.x, cell.hi.y}, {tile.column - 1, tile.row});
  edge({cell.hi.x, cell.lo.y}, cell.hi, {tile.column + 1, tile.row});
  edge(cell.lo, {cell.hi.x, cell.lo.y}, {tile.column, tile.row - 1});
  edge({cell.lo.x, cell.hi.y}, cell.hi, {tile.column, tile.row + 1});
}

Table ordinates_of(const TemplateJob& job) {
  Table table = ordinate_table(job.outline, job.layout.project.show);
  table.height = kWord;
  table.row = 6.5;
  for (Column& column : table.columns) column.width = 24.0;
  return table;
}

/// A text in the middle of a cell where that is free, else on the next free spot inside.
void name_cell(Drawing& d, const Rect& cell, const std::string& name) {
  for (const double height : {kFigure, kWord, 2.5}) {
    const double width = text_width(name, height);
    std::vector<Vec2> spots;
    for (double y = 1.0; y < cell.height() - height - 1.0; y += 1.0) {
      for (double x = 1.0; x < cell.width() - width - 1.0; x += 1.0)
        spots.push_back(cell.lo + Vec2{x, y});
    }
    const Vec2 best = cell.centre() - Vec2{width / 2, height / 2};
    std::ranges::stable_sort(spots, {}, [&](Vec2 p) { return length(p - best); });
    const auto spot = std::ranges::find_if(spots, [&](Vec2 p) {
      return is_free(d, extent({name, p, height}), 1.0);
    });
    if (spot != spots.end()) return add_text(d, name, *spot, height);
  }
}

/// The part, small, with its sheets over it; those that are not printed in brackets.
void draw_map(Drawing& d, const TemplateJob& job, const Rect& area) {
  const Tiling& t = job.tiling;
  const Rect field = grown({t.cell({0, 0}).lo, t.cell({t.columns - 1, t.rows - 1}).hi}, kLap / 2);
  const double scale = std::min(area.width() / field.width(), area.height() / field.height());
  const ViewPlace place =
      open_view(d, place_view(field, scale, {area.lo.x, area.hi.y - field.height() * scale}));
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  const auto on_paper = [&](Tile tile) {
    return Rect{paper(t.cell(tile).lo), paper(t.cell(tile).hi)};
  };
  add_view(d, job.outline.drawn, place, kEdge, kEdge);
  add_view(d, job.outline.worked, place, kHair, kHairBehind);
  const std::vector<Tile> blank = t.blank();
  for (const auto* tiles : {&t.tiles, &blank}) {
    for (const Tile tile : *tiles) {
      const Rect cell = on_paper(tile);
      const Vec2 corners[] = {cell.lo, {cell.hi.x, cell.lo.y}, cell.hi, {cell.lo.x, cell.hi.y}};
      for (int i = 0; i < 4; ++i)
        d.lines.push_back({corners[i], corners[(i + 1) % 4], kHair, -1, false, place.view});
    }
  }
  for (const Tile tile : t.tiles) name_cell(d, on_paper(tile), name_of(tile));
  for (const Tile tile : blank) name_cell(d, on_paper(tile), "(" + name_of(tile) + ")");
}

/// What the map tells of the template, a paragraph each.
std::vector<std::string> map_notes(const TemplateJob& job, bool has_ordinates) {
  const LengthStyle show = job.layout.project.show;
  const PanelStudy& panel = job.outline.panel;
  std::vector<std::string> notes{say(
      job.part.flat ? "template.sheets_of_blank" : "template.sheets",
      {{"sheets", std::to_string(job.tiling.tiles.size())},
       {"paper", size_of(job.options.template_paper).name},
       {"count", std::to_string(job.type.parts.size())},
       {"stock", stock_title(job.layout, job.part)},
       {"size", length_text(panel.width(), show) + " × " + length_text(panel.height(), show)}})};
  std::vector<std::string> blank;
  for (const Tile tile : job.tiling.blank()) blank.push_back(name_of(tile));
  if (!blank.empty()) notes.push_back(say("template.blank", {{"sheets", join(blank, ", ")}}));
  notes.push_back(say("template.print", {{"square", square_text(job, kSquare)}}));
  notes.push_back(say("template.tape"));
  notes.push_back(face_note(job.layout, job.type, panel) + " " + say("template.corner") +
                  (has_ordinates ? " " + say("template.ordinates") : ""));
  const bool behind =
      std::ranges::any_of(job.outline.worked.lines, [](auto& line) { return !line.visible; }) ||
      std::ranges::any_of(panel.holes, [](const PanelHole& hole) { return hole.face == "B"; });
  if (behind) notes.push_back(say("template.behind"));
  return notes;
}

}  // namespace

Drawn inked(const TrueOutline& outline) {
  Drawn all = outline.drawn;
  for (const Drawn& more : {outline.worked, folds_of(outline), holes_of(outline)}) {
    all.lines.insert(all.lines.end(), more.lines.begin(), more.lines.end());
    all.arcs.insert(all.arcs.end(), more.arcs.begin(), more.arcs.end());
  }
  return all;
}

Drawing map_page(const TemplateJob& job) {
  Drawing d = empty_page(job, say("template.map", {{"part", title_of(job)}}));
  const Rect page = d.frame;
  const double width = page.width();
  add_sized(d, title_of(job), {page.lo.x, page.hi.y - 9.0}, kBig, width - 68.0);
  if (job.options.not_for_cutting) add_stamp_at(d, {page.hi.x, page.hi.y - 9.0});
  add_line(d, {page.lo.x, page.hi.y - 12.0}, {page.hi.x, page.hi.y - 12.0}, kBenchPens.visible());
  const Table table = ordinates_of(job);
  const double column = table.rows.empty() ? 0.0 : table.width() + 6.0;
  const double top = page.hi.y - 16.0;
  const auto most = static_cast<std::size_t>((top - page.lo.y) / table.row) - 1;
  Table shown = table;
  if (shown.rows.size() > most) shown.rows.resize(most);
  if (!shown.rows.empty()) add_table(d, shown, {page.hi.x - table.width(), top});
  const double words = width - column;
  const std::vector<std::string> notes = map_notes(job, !table.rows.empty());
  double notes_take = 0.0;
  for (const std::string& note : notes) notes_take += notes_height({note}, words, kWord) + 1.0;
  const double map_foot = page.lo.y + kSquare + 8.0 + notes_take + 6.0;
  draw_map(d, job, {{page.lo.x + 1.0, map_foot}, {page.lo.x + words, top}});
  double y = page.lo.y + kSquare + 6.0 + notes_take;
  for (const std::string& note : notes)
    y -= add_notes(d, {note}, {page.lo.x, y}, words, kWord) + 1.0;
  draw_square(d, job, page.lo + Vec2{1.0, 1.0}, kSquare);
  return d;
}

Drawing tile_page(const TemplateJob& job, Tile tile) {
  Drawing d =
      empty_page(job, say("template.sheet", {{"part", title_of(job)}, {"sheet", name_of(tile)}}));
  const Rect window = job.tiling.window(tile);
  const Sheet sheet{d, window, job.tiling.image.lo - window.lo};
  draw_part(sheet, job);
  add_joins(sheet, job, tile);
  add_foot(d, job, tile, add_square(sheet, job, job.tiling.image));
  return d;
}

Drawing whole_sheet(const TemplateJob& job) {
  const PanelStudy& panel = job.outline.panel;
  constexpr double border = 10.0;
  constexpr double foot = 14.0;
  Drawing d;
  constexpr double least = kSquare + 16.0;
  const double width = std::max(panel.width(), least);
  const double height = std::max(panel.height(), least);
  d.width = width + 2 * border;
  d.height = height + 2 * border + foot;
  d.format = "whole";
  d.frame = {{border / 2, border / 2}, {d.width - border / 2, d.height - border / 2}};
  d.title = say("template.true_size", {{"part", title_of(job)}});
  d.number = job.type.mark;
  const Rect window{{0, 0}, {width, height}};
  const Vec2 corner{border, border + foot};
  const Sheet sheet{d, grown(window, 1.0), corner};
  draw_part(sheet, job);
  add_square(sheet, job, {corner, corner + Vec2{width, height}});
  add_sized(d, say("template.scale", {{"part", title_of(job)}}), {border, border}, kBig,
            d.width - 2 * border);
  if (job.options.not_for_cutting) add_stamp_at(d, {d.width - border, border - 4.0});
  return d;
}

}  // namespace ribbay::detail

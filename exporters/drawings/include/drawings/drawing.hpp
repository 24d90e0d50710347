#pragma once

#include "base/text.hpp"
#include "base/vec.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace ribbay {

// A drawing in the making: every stroke and every letter is registered here, in mm on paper, x to
// the right and y up from the lower left corner of the trimmed page. Nothing else reaches the file,
// so the audit sees all there is.

/// A rectangle on paper.
struct Rect {
  Vec2 lo;
  Vec2 hi;
  double width() const { return hi.x - lo.x; }
  double height() const { return hi.y - lo.y; }
  Vec2 centre() const { return (lo + hi) * 0.5; }
};

inline Rect grown(Rect r, double by) {
  return {r.lo - Vec2{by, by}, r.hi + Vec2{by, by}};
}
/// The least rectangle that holds both.
inline Rect united(const Rect& a, const Rect& b) {
  return {{std::min(a.lo.x, b.lo.x), std::min(a.lo.y, b.lo.y)},
          {std::max(a.hi.x, b.hi.x), std::max(a.hi.y, b.hi.y)}};
}
inline bool overlap(const Rect& a, const Rect& b) {
  return a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y;
}
inline bool inside(const Rect& inner, const Rect& outer) {
  return inner.lo.x >= outer.lo.x && inner.lo.y >= outer.lo.y && inner.hi.x <= outer.hi.x &&
         inner.hi.y <= outer.hi.y;
}
/// True when the segment a-b enters the open rectangle.
bool crosses(Vec2 a, Vec2 b, const Rect& rect);

/// Line types of ISO 128-2 (numbers as textbooks on it give them; the standard itself not seen).
enum class LineType {
  continuous,   ///< 01
  dashed,       ///< 02: hidden edges
  chain,        ///< 04, long dash and dot: centre lines, lines of symmetry
  double_chain  ///< 05, long dash and two dots: outlines of neighbours, and of what moves at the
                ///< end of its way
};

struct Pen {
  LineType type = LineType::continuous;
  double width = 0.25;
};

/// A line group of ISO 128-2: wide and narrow lines in the ratio 2 : 1, lettering between (from
/// memory).
struct Pens {
  double wide = 0.5;
  double narrow = 0.25;
  constexpr Pen visible() const { return {LineType::continuous, wide}; }
  constexpr Pen thin() const { return {LineType::continuous, narrow}; }
  constexpr Pen hidden() const { return {LineType::dashed, narrow}; }
  constexpr Pen centre() const { return {LineType::chain, narrow}; }
  constexpr Pen context() const { return {LineType::double_chain, narrow}; }
};
inline constexpr Pens kGroup50{0.5, 0.25};   ///< for drawings of single parts
inline constexpr Pens kGroup35{0.35, 0.18};  ///< for assemblies, where lines lie close

struct InkLine {
  Vec2 a;
  Vec2 b;
  Pen pen;
  int owner = -1;       ///< index into Drawing::owners, or -1
  bool border = false;  ///< belongs to the page's border, outside of the frame
  int view = -1;        ///< index into Drawing::views: part of the picture there; or -1
};

/// The points centre + u cos t + v sin t, from <= t <= to; u and v at right angles.
struct InkArc {
  Vec2 centre;
  Vec2 u;
  Vec2 v;
  double from = 0.0;
  double to = 0.0;
  Pen pen;
  int owner = -1;
  int view = -1;
  Vec2 point(double t) const { return centre + u * std::cos(t) + v * std::sin(t); }
  /// Points along it, close enough for every purpose on paper.
  std::vector<Vec2> polyline() const;
};

/// A filled polygon: arrow heads, dots, trimming marks.
struct InkFill {
  std::vector<Vec2> corners;
  bool border = false;
};

enum class Align { left, centre, right };

struct InkText {
  std::string text;
  Vec2 at;  ///< on the baseline, at the side that `align` names
  double height = 2.5;
  Align align = Align::left;
  bool turned =
      false;  ///< runs upwards: read from the right, as ISO 129-1 reads vertical dimensions
  bool border = false;
  std::string colour = {};  ///< "#rrggbb"; empty: black
};

/// Edges of the ink of a text on paper.
Rect extent(const InkText& text);

/// Where the coordinates of the model lie on paper along one axis: straight between the knots,
/// which rise with the model. Two knots make a scale; more make a view that is broken between them.
struct AxisMap {
  std::vector<std::pair<double, double>> knots;  ///< model mm, paper mm
  double paper(double model) const;
  double model(double paper) const;
};
AxisMap axis_map(double model_origin, double paper_origin, double scale);

/// What a dimension says and what it is drawn between, kept for the audit.
struct InkDimension {
  std::string text;
  double from = 0.0;  ///< paper coordinates of the two ends along the axis of `map`
  double to = 0.0;
  AxisMap map;
  LengthStyle show = LengthStyle::millimetres;
  bool upright = false;  ///< the ends differ in y
  int view = -1;         ///< index into Drawing::views that it measures, or -1
};

struct Drawing {
  std::string format;  ///< "A3"
  double width = 0.0;
  double height = 0.0;
  Rect frame;  ///< inner edge of the drawing frame
  std::string title;
  std::string number;  ///< identification number
  std::vector<InkLine> lines;
  std::vector<InkArc> arcs;
  std::vector<InkFill> fills;
  /// Areas in light grey under all ink, each a list of outlines, outer ones counter-clockwise and holes
  /// the other way: narrow cut faces.
  std::vector<std::vector<std::vector<Vec2>>> tones;
  std::vector<InkText> texts;
  std::vector<InkDimension> dimensions;
  std::vector<std::string> owners;  ///< part ids, for pages that point at parts
  std::vector<Rect> reserved;       ///< nothing more may be put here
  std::vector<Rect> views;          ///< where pictures stand: notes may, other pictures may not
};

void add_line(Drawing& drawing, Vec2 a, Vec2 b, Pen pen);
void add_rect(Drawing& drawing, const Rect& rect, Pen pen);
void add_circle(Drawing& drawing, Vec2 centre, double radius, Pen pen);
/// An arrow head with its tip at `tip`, pointing along `direction` (unit).
void add_arrow(Drawing& drawing, Vec2 tip, Vec2 direction);
/// A filled dot, the end of a leader on a face (ISO 128-2, leader lines).
void add_dot(Drawing& drawing, Vec2 at, double radius = 0.5);
void add_text(Drawing& drawing, std::string text, Vec2 at, double height, Align align = Align::left,
              bool turned = false);

/// True when no ink and no reserved area comes nearer to `rect` than `clearance`, and it lies in
/// the frame.
bool is_free(const Drawing& drawing, const Rect& rect, double clearance = 0.6);
/// True when the line a-b would touch no text and no reserved area.
bool is_clear(const Drawing& drawing, Vec2 a, Vec2 b, double clearance = 0.5);

/// The drawing as SVG 1.1 in true mm: one user unit is 1 mm. Letters are drawn as strokes; the
/// words lie under them, invisible, for search and for screen readers. Bytes depend on the drawing
/// alone.
std::string svg(const Drawing& drawing);

}  // namespace ribbay

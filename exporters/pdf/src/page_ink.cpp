#include "page_ink.hpp"

#include "paths.hpp"
#include "drawings/dashes.hpp"
#include "drawings/lettering.hpp"
#include "drawings/words.hpp"

#include <charconv>
#include <map>
#include <numbers>
#include <vector>

namespace ribbay::detail {

namespace {

class PageInk {
 public:
  PageInk(cairo_t* to, const Drawing& drawing) : to_(to), drawing_(drawing) {
    cairo_set_line_cap(to_, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(to_, CAIRO_LINE_JOIN_ROUND);
  }

  /// The library turns the letters of its own fonts one by one, so that readers find the words of turned
  /// texts backwards: those are strokes, over white words of a plain font.
  void turned_words() {
    cairo_set_source_rgb(to_, 1.0, 1.0, 1.0);
    cairo_select_font_face(to_, "monospace", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
    for (const InkText& text : drawing_.texts) {
      if (!text.turned) continue;
      along(text, [&] {
        cairo_set_font_size(to_, font_size(text));
        cairo_move_to(to_, 0.0, 0.0);
        cairo_show_text(to_, text.text.c_str());
      });
    }
  }

  void tones() {
    constexpr double grey = 0xBB / 255.0;
    cairo_set_source_rgb(to_, grey, grey, grey);
    for (const auto& tone : drawing_.tones) {
      for (const auto& outline : tone) polygon(outline);
    }
    cairo_fill(to_);
  }

  /// All strokes of one width in one path.
  void strokes() {
    cairo_set_source_rgb(to_, 0.0, 0.0, 0.0);
    std::map<double, std::vector<const InkLine*>> lines;
    std::map<double, std::vector<const InkArc*>> arcs;
    for (const InkLine& line : drawing_.lines) lines[line.pen.width].push_back(&line);
    for (const InkArc& arc : drawing_.arcs) arcs[arc.pen.width].push_back(&arc);
    for (const auto& [width, some] : lines) {
      for (const InkLine* line : some) stroke(*line);
      finish(width);
    }
    for (const auto& [width, some] : arcs) {
      for (const InkArc* arc : some) stroke(*arc);
      finish(width);
    }
  }

  void texts(cairo_font_face_t* letters) {
    cairo_set_font_face(to_, letters);
    for (const InkText& text : drawing_.texts) {
      colour(text.colour);
      text.turned ? stroke(text) : write(text);
    }
  }

  void fills() {
    cairo_set_source_rgb(to_, 0.0, 0.0, 0.0);
    for (const InkFill& fill : drawing_.fills) polygon(fill.corners);
    cairo_fill(to_);
  }

 private:
  Vec2 down(Vec2 p) const { return {p.x, drawing_.height - p.y}; }
  void move(Vec2 p) { cairo_move_to(to_, p.x, drawing_.height - p.y); }
  void line(Vec2 p) { cairo_line_to(to_, p.x, drawing_.height - p.y); }

  void finish(double width) {
    cairo_set_line_width(to_, width);
    cairo_stroke(to_);
  }

  void polygon(const std::vector<Vec2>& corners) {
    for (std::size_t i = 0; i < corners.size(); ++i) i == 0 ? move(corners[i]) : line(corners[i]);
    cairo_close_path(to_);
  }

  void stroke(const InkLine& ink) {
    each_dash(ink, [&](Vec2 from, Vec2 to) {
      move(from);
      line(to);
    });
  }

  void stroke(const InkArc& arc) {
    each_dash(arc, [&](double from, double to) {
      move(arc.point(from));
      bend(to_, down(arc.centre), {arc.u.x, -arc.u.y}, {arc.v.x, -arc.v.y}, from, to);
      if (to - from > 2.0 * std::numbers::pi - 1e-6) cairo_close_path(to_);
    });
  }

  /// "#rrggbb"; black when there is none.
  void colour(const std::string& text) {
    unsigned value = 0;
    if (text.size() == 7) std::from_chars(text.data() + 1, text.data() + 7, value, 16);
    const auto channel = [&](unsigned shift) { return ((value >> shift) & 255U) / 255.0; };
    cairo_set_source_rgb(to_, channel(16), channel(8), channel(0));
  }

  void write(const InkText& text) {
    const Vec2 start = down(start_of(text));
    cairo_move_to(to_, start.x + kFirstPen * text.height, start.y);
    cairo_set_font_size(to_, text.height);
    cairo_show_text(to_, text.text.c_str());
  }

  /// Calls `draw` with the origin at the start of a turned text and x along it.
  template <class Draw>
  void along(const InkText& text, const Draw& draw) {
    const Vec2 start = down(start_of(text));
    cairo_save(to_);
    cairo_translate(to_, start.x, start.y);
    cairo_rotate(to_, -std::numbers::pi / 2.0);
    draw();
    cairo_restore(to_);
  }

  void stroke(const InkText& text) {
    along(text, [&] {
      for (const PenStroke& s : text_strokes(text.text, text.height)) add_stroke(to_, s);
    });
    finish(text_pen(text.height));
  }

  cairo_t* to_;
  const Drawing& drawing_;
};

}  // namespace

void ink_page(cairo_t* to, const Drawing& drawing, cairo_font_face_t* letters) {
  PageInk ink(to, drawing);
  ink.turned_words();
  ink.tones();
  ink.strokes();
  ink.texts(letters);
  ink.fills();
}

}  // namespace ribbay::detail

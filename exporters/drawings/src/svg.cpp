#include "base/markup.hpp"
#include "drawings/dashes.hpp"
#include "drawings/drawing.hpp"
#include "drawings/lettering.hpp"
#include "drawings/words.hpp"

#include <map>
#include <numbers>

namespace ribbay {

namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;

/// Path data, flipped to SVG's y axis. Hundredths of a millimetre: far below any pen.
class Path {
 public:
  explicit Path(double page_height) : height_(page_height) {}

  void move(Vec2 p) { put('M', p); }
  void line(Vec2 p) { put('L', p); }
  void arc(double rx, double ry, double tilt, bool large, bool counter_clockwise, Vec2 to) {
    data_ += 'A' + num(rx) + ' ' + num(ry) + ' ' + num(-tilt * 180.0 / std::numbers::pi) +
             (large ? " 1" : " 0") + (counter_clockwise ? " 0 " : " 1 ") + num(to.x) + ' ' +
             num(height_ - to.y);
  }
  void close() { data_ += 'Z'; }
  const std::string& data() const { return data_; }
  static std::string num(double v) { return rounded_text(v, 2); }

 private:
  void put(char command, Vec2 p) {
    data_ += command;
    data_ += num(p.x);
    data_ += ' ';
    data_ += num(height_ - p.y);
  }
  double height_;
  std::string data_;
};

void draw(Path& path, const InkLine& line) {
  each_dash(line, [&](Vec2 from, Vec2 to) {
    path.move(from);
    path.line(to);
  });
}

void draw(Path& path, const InkArc& arc) {
  const double rx = length(arc.u);
  const double ry = length(arc.v);
  const double tilt = std::atan2(arc.u.y, arc.u.x);
  each_dash(arc, [&](double from, double to) {
    path.move(arc.point(from));
    if (to - from > kTurn - 1e-6) {
      path.arc(rx, ry, tilt, false, true, arc.point(from + kTurn / 2));
      path.arc(rx, ry, tilt, false, true, arc.point(from));
      path.close();
    } else {
      path.arc(rx, ry, tilt, to - from > kTurn / 2, true, arc.point(to));
    }
  });
}

void draw(Path& path, const std::vector<Vec2>& corners) {
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (i == 0)
      path.move(corners[i]);
    else
      path.line(corners[i]);
  }
  path.close();
}

/// Where a point of a text's own coordinates lies on paper.
struct TextPlace {
  Vec2 at;
  bool turned;
  Vec2 operator()(Vec2 p) const { return at + (turned ? perpendicular(p) : p); }
};

TextPlace place_of(const InkText& text) {
  return {start_of(text), text.turned};
}

void draw(Path& path, const InkText& text) {
  const TextPlace place = place_of(text);
  for (const PenStroke& stroke : text_strokes(text.text, text.height)) {
    path.move(place(stroke.start));
    for (const PenStep& step : stroke.steps) {
      if (step.radius > 0.0) {
        path.arc(step.radius, step.radius, 0.0, false, !step.clockwise, place(step.to));
      } else {
        path.line(place(step.to));
      }
    }
  }
}

/// The words of a text for search: as wide as its strokes whatever the font.
std::string words(const InkText& text, double page_height) {
  const Vec2 start = start_of(text);
  const std::string x = Path::num(start.x);
  const std::string y = Path::num(page_height - start.y);
  std::string out = "<text x=\"" + x + "\" y=\"" + y + "\" font-size=\"" +
                    Path::num(font_size(text)) + "\" textLength=\"" +
                    Path::num(text_width(text.text, text.height)) +
                    "\" lengthAdjust=\"spacingAndGlyphs\"";
  if (text.turned) out += " transform=\"rotate(-90 " + x + ' ' + y + ")\"";
  return out + '>' + markup_escaped(text.text) + "</text>\n";
}

void add_path(std::string& out, const std::string& data, double width, const std::string& more = {},
              const std::string& title = {}) {
  if (data.empty()) return;
  out += "<path stroke-width=\"" + Path::num(width) + "\"" + more + " d=\"";
  out += data;
  out += title.empty() ? "\"/>\n" : "\"><title>" + markup_escaped(title) + "</title></path>\n";
}

/// Lines and arcs of one owner and one width, in one path each; its title is the part's id, which a
/// browser shows where one points at the part.
void add_strokes(std::string& out, const Drawing& drawing) {
  std::map<std::pair<int, double>, Path> paths;
  const auto path = [&](int owner, const Pen& pen) -> Path& {
    return paths.try_emplace({owner, pen.width}, drawing.height).first->second;
  };
  for (const InkLine& line : drawing.lines) draw(path(line.owner, line.pen), line);
  for (const InkArc& arc : drawing.arcs) draw(path(arc.owner, arc.pen), arc);
  for (const auto& [key, p] : paths) {
    const std::string owner =
        key.first < 0 ? "" : drawing.owners[static_cast<std::size_t>(key.first)];
    add_path(out, p.data(), key.second, {}, owner);
  }
}

}  // namespace

Vec2 start_of(const InkText& text) {
  const double width = text_width(text.text, text.height);
  const double shift = text.align == Align::left    ? 0.0
                       : text.align == Align::right ? width
                                                    : width / 2;
  return text.at - (text.turned ? Vec2{0, shift} : Vec2{shift, 0});
}

double font_size(const InkText& text) {
  return text.height * 1.4;
}

std::string svg(const Drawing& drawing) {
  const std::string w = Path::num(drawing.width);
  const std::string h = Path::num(drawing.height);
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
      "width=\"" +
      w + "mm\" height=\"" + h + "mm\" viewBox=\"0 0 " + w + ' ' + h + "\">\n<title>" +
      markup_escaped(drawing.title) + "</title>\n<rect width=\"" + w + "\" height=\"" + h +
      "\" fill=\"#fff\"/>\n";
  // The words come first: they lie under everything and are not painted.
  out += "<g fill-opacity=\"0\" font-family=\"monospace\">\n";
  for (const InkText& text : drawing.texts) out += words(text, drawing.height);
  out +=
      "</g>\n<g fill=\"none\" stroke=\"#000\" stroke-linecap=\"round\" "
      "stroke-linejoin=\"round\">\n";
  Path tones(drawing.height);
  for (const auto& tone : drawing.tones) {
    for (const auto& outline : tone) draw(tones, outline);
  }
  if (!tones.data().empty())
    out += "<path fill=\"#bbb\" stroke=\"none\" d=\"" + tones.data() + "\"/>\n";
  add_strokes(out, drawing);
  std::map<std::pair<std::string, double>, Path> letters;
  for (const InkText& text : drawing.texts) {
    draw(letters.try_emplace({text.colour, text_pen(text.height)}, drawing.height).first->second,
         text);
  }
  for (const auto& [key, path] : letters) {
    add_path(out, path.data(), key.second,
             key.first.empty() ? "" : " stroke=\"" + key.first + "\"");
  }
  Path fills(drawing.height);
  for (const InkFill& fill : drawing.fills) draw(fills, fill.corners);
  if (!fills.data().empty())
    out += "<path fill=\"#000\" stroke=\"none\" d=\"" + fills.data() + "\"/>\n";
  return out + "</g>\n</svg>\n";
}

}  // namespace ribbay

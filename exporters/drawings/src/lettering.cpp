#include "drawings/lettering.hpp"

#include "alphabet.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <numbers>

namespace ribbay {

namespace {

constexpr double kUnits = 10.0;          // grid units to the letter height
constexpr double kPen = 1.0;             // ISO 3098-1 type B: h/10
constexpr double kGap = 2.0;             // between letters: 2h/10
constexpr double kWord = 6.0;            // between words: 6h/10
constexpr double kBlank = kWord - kGap;  // what a space adds to the gap before it
constexpr double kCapital = 3.2;         // marks stand this much higher over capitals

struct Glyph {
  double width = 0.0;
  std::vector<PenStroke> strokes;
  TextExtent ink;  // of the pen's outline, pen at x = 0
};

struct GridPoint {
  Vec2 at;
  double radius = 0.0;
};

/// A stroke through `points` whose corners are rounded where they have a radius.
PenStroke rounded(const std::vector<GridPoint>& points, bool closed) {
  PenStroke stroke;
  const std::size_t n = points.size();
  const auto step = [&](std::size_t i) {
    const GridPoint& corner = points[i % n];
    const Vec2 in = normalized(corner.at - points[(i + n - 1) % n].at);
    const Vec2 out = normalized(points[(i + 1) % n].at - corner.at);
    const double turn = std::atan2(cross(in, out), dot(in, out));
    const double tangent = corner.radius * std::tan(std::abs(turn) / 2.0);
    if (tangent > 0.0) {
      stroke.steps.push_back({corner.at - in * tangent});
      stroke.steps.push_back({corner.at + out * tangent, corner.radius, turn < 0.0});
    } else {
      stroke.steps.push_back({corner.at});
    }
  };
  if (closed) {
    for (std::size_t i = 0; i < n; ++i) step(i);
    stroke.start = stroke.steps.back().to;
  } else {
    stroke.start = points.front().at;
    for (std::size_t i = 1; i + 1 < n; ++i) step(i);
    stroke.steps.push_back({points.back().at});
  }
  return stroke;
}

/// Reads a number from the front of `text`.
double number(std::string_view& text) {
  double value = 0.0;
  const char* end = std::from_chars(text.data(), text.data() + text.size(), value).ptr;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

std::vector<PenStroke> parse(std::string_view text) {
  std::vector<PenStroke> strokes;
  std::vector<GridPoint> points;
  bool closed = false;
  const auto finish = [&] {
    if (!points.empty()) strokes.push_back(rounded(points, closed));
    points.clear();
    closed = false;
  };
  while (!text.empty()) {
    if (text.front() == ' ' || text.front() == '|' || text.front() == 'z') {
      if (text.front() == '|') finish();
      if (text.front() == 'z') closed = true;
      text.remove_prefix(1);
      continue;
    }
    GridPoint p;
    p.at.x = number(text);
    text.remove_prefix(1);
    p.at.y = number(text);
    if (text.starts_with(',')) {
      text.remove_prefix(1);
      p.radius = number(text);
    }
    points.push_back(p);
  }
  finish();
  return strokes;
}

TextExtent ink_of(const std::vector<PenStroke>& strokes) {
  // Arcs stay inside the corner that they round, and touch both of its sides: the points suffice,
  // but the bulge of an arc between them must be counted.
  TextExtent e{1e9, -1e9, 1e9, -1e9};
  const auto add = [&](Vec2 p) {
    e.left = std::min(e.left, p.x);
    e.right = std::max(e.right, p.x);
    e.bottom = std::min(e.bottom, p.y);
    e.top = std::max(e.top, p.y);
  };
  for (const PenStroke& s : strokes) {
    Vec2 from = s.start;
    add(from);
    for (const PenStep& step : s.steps) {
      if (step.radius > 0.0) {
        const Vec2 centre = arc_centre(from, step);
        const double a = std::atan2(from.y - centre.y, from.x - centre.x);
        double by = std::atan2(step.to.y - centre.y, step.to.x - centre.x) - a;
        if (step.clockwise && by > 0.0) by -= 2.0 * std::numbers::pi;
        if (!step.clockwise && by < 0.0) by += 2.0 * std::numbers::pi;
        for (int k = 1; k < 8; ++k) {
          const double t = a + by * k / 8.0;
          add(centre + Vec2{std::cos(t), std::sin(t)} * step.radius);
        }
      }
      add(step.to);
      from = step.to;
    }
  }
  return {e.left - kPen / 2, e.right + kPen / 2, e.bottom - kPen / 2, e.top + kPen / 2};
}

std::vector<PenStroke> shifted(std::vector<PenStroke> strokes, Vec2 by) {
  for (PenStroke& s : strokes) {
    s.start = s.start + by;
    for (PenStep& step : s.steps) step.to = step.to + by;
  }
  return strokes;
}

const std::map<char32_t, Glyph>& alphabet() {
  static const std::map<char32_t, Glyph> glyphs = [] {
    std::map<char32_t, Glyph> made;
    for (const detail::Letter& letter : detail::kAlphabet) {
      // The pen's centre line starts half a pen above the baseline.
      made[letter.code] = {letter.width, shifted(parse(letter.strokes), {0, kPen / 2}), {}};
    }
    for (const detail::Composed& c : detail::kComposed) {
      Glyph glyph = made.at(c.letter);
      if (c.letter == U'i') glyph.strokes.resize(1);  // without its dot
      const auto accent = std::ranges::find(detail::kAccents, c.accent, &detail::Accent::code);
      const bool high = c.letter < U'a' && c.accent != U',';
      const auto marks =
          shifted(parse(accent->strokes), {glyph.width / 2, kPen / 2 + (high ? kCapital : 0.0)});
      glyph.strokes.insert(glyph.strokes.end(), marks.begin(), marks.end());
      made[c.code] = std::move(glyph);
    }
    made[U'\0'] = {5.0, shifted(parse("0,0 5,0 5,9 0,9 z"), {0, kPen / 2}), {}};
    for (auto& [code, glyph] : made) glyph.ink = ink_of(glyph.strokes);
    return made;
  }();
  return glyphs;
}

/// Calls `visit` with each code point of UTF-8 text; 0 for broken bytes.
template <class Visit>
void each_code_point(std::string_view text, Visit&& visit) {
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t size = lead < 0x80    ? 1
                             : lead >= 0xF0 ? 4
                             : lead >= 0xE0 ? 3
                             : lead >= 0xC0 ? 2
                                            : 0;
    if (size == 0 || i + size > text.size()) {
      visit(U'\0');
      ++i;
      continue;
    }
    char32_t code = size == 1 ? lead : lead & (0xFFU >> (size + 1));
    for (std::size_t k = 1; k < size; ++k) {
      code = (code << 6U) | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
    }
    visit(code);
    i += size;
  }
}

bool blank(char32_t code) {
  return code == U' ' || code == 0xA0;
}

const Glyph& glyph_of(char32_t code) {
  static const auto plain = [] {
    std::array<const Glyph*, 128> made{};
    const auto& glyphs = alphabet();
    for (char32_t c = 0; c < made.size(); ++c) {
      const auto found = glyphs.find(c);
      made[c] = found != glyphs.end() ? &found->second : &glyphs.at(U'\0');
    }
    return made;
  }();
  if (code < plain.size()) return *plain[code];
  const auto& glyphs = alphabet();
  const auto found = glyphs.find(code);
  return found != glyphs.end() ? found->second : glyphs.at(U'\0');
}

double advance(const Glyph& glyph) {
  return glyph.width + kPen + kGap;
}

/// Calls `visit(glyph, pen x)` for each letter, in grid units. The pen's outline starts at 0.
template <class Visit>
void each_letter(std::string_view text, Visit&& visit) {
  double pen = kFirstPen * kUnits;
  each_code_point(text, [&](char32_t code) {
    if (blank(code)) {
      pen += kBlank;
      return;
    }
    const Glyph& glyph = glyph_of(code);
    visit(glyph, pen);
    pen += advance(glyph);
  });
}

PenStroke scaled(const PenStroke& stroke, double pen, double k) {
  PenStroke moved{(stroke.start + Vec2{pen, 0}) * k, stroke.steps};
  for (PenStep& step : moved.steps)
    step = {(step.to + Vec2{pen, 0}) * k, step.radius * k, step.clockwise};
  return moved;
}

}  // namespace

Vec2 arc_centre(Vec2 from, const PenStep& step) {
  const Vec2 chord = step.to - from;
  const double half = length(chord) / 2.0;
  const double rise = std::sqrt(std::max(0.0, step.radius * step.radius - half * half));
  const Vec2 side = normalized(perpendicular(chord)) * (step.clockwise ? -rise : rise);
  return from + chord * 0.5 + side;
}

PenLetter pen_letter(char32_t code) {
  if (blank(code)) return {{}, kBlank / kUnits};
  const Glyph& glyph = glyph_of(code);
  PenLetter made{{}, advance(glyph) / kUnits};
  for (const PenStroke& stroke : glyph.strokes)
    made.strokes.push_back(scaled(stroke, 0.0, 1.0 / kUnits));
  return made;
}

TextExtent text_extent(std::string_view text, double height) {
  TextExtent e{0, 0, 0, 0};
  each_letter(text, [&](const Glyph& glyph, double pen) {
    e.left = std::min(e.left, pen + glyph.ink.left);
    e.right = std::max(e.right, pen + glyph.ink.right);
    e.bottom = std::min(e.bottom, glyph.ink.bottom);
    e.top = std::max(e.top, glyph.ink.top);
  });
  const double k = height / kUnits;
  return {e.left * k, e.right * k, e.bottom * k, e.top * k};
}

std::vector<PenStroke> text_strokes(std::string_view text, double height) {
  std::vector<PenStroke> out;
  const double k = height / kUnits;
  each_letter(text, [&](const Glyph& glyph, double pen) {
    for (const PenStroke& s : glyph.strokes) out.push_back(scaled(s, pen, k));
  });
  return out;
}

bool can_letter(std::string_view text) {
  const auto& glyphs = alphabet();
  bool can = true;
  each_code_point(text,
                  [&](char32_t c) { can = can && (blank(c) || (c != 0 && glyphs.contains(c))); });
  return can;
}

}  // namespace ribbay

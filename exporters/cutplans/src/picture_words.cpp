#include "picture_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kApart = 1.0;  ///< from a circle to what it does not belong to

/// A number and the circle around it.
struct Balloon {
  InkText text;
  double radius = 0.0;

  Balloon(const std::string& number, double height)
      : text{.text = number, .at = {}, .height = height, .align = Align::centre} {
    const Rect letters = extent(text);
    radius = std::hypot(letters.width(), letters.height()) / 2 + 0.45;
  }

  void draw(Drawing& page, Vec2 middle) const {
    add_text(page, text.text, middle - Vec2{0.0, text.height / 2}, text.height, Align::centre);
    add_circle(page, middle, radius, kPicturePens.thin());
    page.reserved.push_back(grown({middle, middle}, radius));  // no leader runs past it closely
  }
};

Rect around(Vec2 a, Vec2 b, double by) {
  return grown({{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}},
               by);
}

/// Breaks a line that runs level or upright where it goes through a circle.
void add_broken(std::vector<InkLine>& lines, const InkLine& line, Vec2 middle, double radius) {
  const double way = length(line.b - line.a);
  const Vec2 along = (line.b - line.a) * (1.0 / way);
  const double at = dot(middle - line.a, along);
  const double off = length(line.a + along * at - middle);
  const double half = off < radius ? std::sqrt(radius * radius - off * off) : 0.0;
  const auto add = [&](double from, double to) {
    if (to <= from) return;
    InkLine piece = line;
    piece.a = line.a + along * from;
    piece.b = line.a + along * to;
    lines.push_back(piece);
  };
  if (half == 0.0 || at + half <= 0.0 || at - half >= way) return lines.push_back(line);
  add(0.0, at - half);
  add(at + half, way);
}

/// On the cut, as near to its middle as there is room.
bool number_on(Drawing& page, Vec2 a, Vec2 b, const Rect& own, const Balloon& balloon) {
  const bool upright = a.x == b.x;
  const auto is_own = [&](const InkLine& line) {
    return upright ? line.a.x == line.b.x && line.a.x > own.lo.x && line.a.x < own.hi.x
                   : line.a.y == line.b.y && line.a.y > own.lo.y && line.a.y < own.hi.y;
  };
  Drawing others = page;
  std::erase_if(others.lines, is_own);
  for (int step = 0; step < 19; ++step) {  // from the middle to and fro, by twentieths
    const int off = (step + 1) / 2;
    const Vec2 middle = a + (b - a) * (0.5 + (step % 2 == 0 ? 0.05 : -0.05) * off);
    if (!is_free(others, around(middle, middle, balloon.radius), kApart)) continue;
    std::vector<InkLine> lines = std::move(page.lines);
    page.lines.clear();
    for (const InkLine& line : lines) {
      if (is_own(line))
        add_broken(page.lines, line, middle, balloon.radius);
      else
        page.lines.push_back(line);
    }
    balloon.draw(page, middle);
    return true;
  }
  return false;
}

/// Further away, with a leader that ends in a dot on the cut.
bool number_from_afar(Drawing& page, Vec2 target, const Balloon& balloon) {
  for (double away = 5.0; away < 120.0; away += 2.0) {
    for (int i = 0; i < 16; ++i) {
      const double angle = (i + 0.5) * std::numbers::pi / 8;
      const Vec2 way{std::cos(angle), std::sin(angle)};
      const Vec2 middle = target + way * away;
      if (!is_free(page, around(middle, middle, balloon.radius), kApart)) continue;
      const Vec2 start = middle - way * balloon.radius;
      if (!is_clear(page, start, target)) continue;
      balloon.draw(page, middle);
      add_line(page, start, target, kPicturePens.thin());
      add_dot(page, target, 0.4);
      return true;
    }
  }
  return false;
}

}  // namespace

bool put(Drawing& page, const std::string& text, Vec2 middle, double height, bool turned) {
  InkText ink{
      .text = text, .at = middle, .height = height, .align = Align::centre, .turned = turned};
  ink.at = turned ? middle + Vec2{height / 2, 0.0} : middle - Vec2{0.0, height / 2};
  const Rect box = extent(ink);
  if (!is_free(page, box, 0.5)) return false;
  add_text(page, text, ink.at, height, Align::centre, turned);
  return true;
}

bool put_stacked(Drawing& page, const std::string& upper, const std::string& lower, Vec2 middle,
                 double height) {
  constexpr double apart = 1.6;  // of the lines, in heights
  const auto line = [&](const std::string& text, double up) {
    return InkText{.text = text,
                   .at = middle + Vec2{0.0, (up * apart - 0.5) * height},
                   .height = height,
                   .align = Align::centre};
  };
  const InkText lines[] = {line(upper, 0.5), line(lower, -0.5)};
  if (std::ranges::any_of(lines,
                          [&](const InkText& text) { return !is_free(page, extent(text), 0.5); }))
    return false;
  for (const InkText& text : lines) add_text(page, text.text, text.at, height, Align::centre);
  return true;
}

bool name_from_afar(Drawing& page, const std::string& word, Vec2 target) {
  for (double away = 4.0; away < 120.0; away += 2.0) {
    for (int i = 0; i < 16; ++i) {
      const double angle = (i + 0.5) * std::numbers::pi / 8;
      const Vec2 at = target + Vec2{std::cos(angle), std::sin(angle)} * away;
      const InkText ink{.text = word,
                        .at = at - Vec2{0.0, kSmallLetters / 2},
                        .height = kSmallLetters,
                        .align = Align::centre};
      const Rect letters = extent(ink);
      if (!is_free(page, letters, 0.6)) continue;
      const Vec2 way = normalized(target - at);
      const Rect beside = grown(letters, 0.8);
      const double leaves =
          std::min(beside.width() / std::abs(way.x), beside.height() / std::abs(way.y)) / 2;
      if (leaves > away - 1.0) continue;  // the word would hide what it names
      const Vec2 start = at + way * leaves;
      if (!is_clear(page, start, target)) continue;
      add_text(page, word, ink.at, kSmallLetters, Align::centre);
      add_line(page, start, target, kPicturePens.thin());
      add_dot(page, target, 0.4);
      return true;
    }
  }
  return false;
}

bool number_cut(Drawing& page, Vec2 a, Vec2 b, const Rect& own, const std::string& number) {
  for (const double height : {kLetters, kSmallLetters}) {
    if (number_on(page, a, b, own, {number, height})) return true;
  }
  for (const double share : {0.5, 0.3, 0.7, 0.1, 0.9}) {
    if (number_from_afar(page, a + (b - a) * share, {number, kSmallLetters})) return true;
  }
  return false;
}

}  // namespace ribbay::detail

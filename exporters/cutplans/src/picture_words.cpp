#include "picture_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kBeside = 0.3;  ///< between a cut and the circle of its number
constexpr double kApart = 1.2;   ///< from the circle to what it does not belong to

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

/// Beside the cut, as near to its middle as there is room.
bool number_beside(Drawing& page, Vec2 a, Vec2 b, const Rect& part, const Balloon& balloon) {
  const double way = length(b - a);
  const Vec2 along = (b - a) * (1.0 / way);
  const Vec2 side{-along.y, along.x};
  const double r = balloon.radius;
  for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.04, 0.96}) {
    const double at = way * share;
    if (at < r + kApart || at > way - r - kApart) continue;
    for (const double to : {1.0, -1.0}) {
      const Vec2 foot = a + along * at;
      const Vec2 middle = foot + side * (to * (r + kBeside));
      if (!inside(around(middle, middle, r), grown(part, -0.1))) continue;
      // Free from the cut to beyond the circle, so that it touches no other.
      const Rect taken = around(foot - along * (r + kApart) + side * (to * kBeside),
                                foot + along * (r + kApart) + side * (to * (2 * r + kApart)), 0.0);
      if (!is_free(page, taken, 0.0)) continue;
      balloon.draw(page, middle);
      return true;
    }
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
      const Vec2 start = at + way * (std::max(letters.width(), letters.height()) / 2 + 0.8);
      if (!is_clear(page, start, target)) continue;
      add_text(page, word, ink.at, kSmallLetters, Align::centre);
      add_line(page, start, target, kPicturePens.thin());
      add_dot(page, target, 0.4);
      return true;
    }
  }
  return false;
}

bool number_cut(Drawing& page, Vec2 a, Vec2 b, const Rect& part, const std::string& number) {
  for (const double height : {kLetters - 0.5, kSmallLetters}) {
    if (number_beside(page, a, b, part, {number, height})) return true;
  }
  for (const double share : {0.5, 0.3, 0.7, 0.1, 0.9}) {
    if (number_from_afar(page, a + (b - a) * share, {number, kSmallLetters})) return true;
  }
  return false;
}

}  // namespace ribbay::detail

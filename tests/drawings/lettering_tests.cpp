#include "drawings/lettering.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace ribbay;

namespace {

/// Extent of the pen's outline, from the ends of all strokes and points on their arcs.
TextExtent measured(std::string_view text, double height) {
  TextExtent e{1e9, -1e9, 1e9, -1e9};
  const double half = text_pen(height) / 2;
  const auto add = [&](Vec2 p) {
    e.left = std::min(e.left, p.x - half);
    e.right = std::max(e.right, p.x + half);
    e.bottom = std::min(e.bottom, p.y - half);
    e.top = std::max(e.top, p.y + half);
  };
  for (const PenStroke& s : text_strokes(text, height)) {
    Vec2 from = s.start;
    add(from);
    for (const PenStep& step : s.steps) {
      add(step.to);
      if (step.radius > 0.0) {
        // The arc's highest reach from its chord, over the middle of the chord.
        const Vec2 chord = step.to - from;
        const double c = length(chord) / 2;
        const double sagitta =
            step.radius - std::sqrt(std::max(0.0, step.radius * step.radius - c * c));
        const Vec2 outward = normalized(perpendicular(chord)) * (step.clockwise ? 1.0 : -1.0);
        add(from + chord * 0.5 + outward * sagitta);
      }
      from = step.to;
    }
  }
  return e;
}

}  // namespace

TEST_CASE("capitals and figures are as high as their nominal size", "[drawings][lettering]") {
  // ISO 3098-1: the nominal size is the height h of the outline of capitals (from memory).
  for (const char c : std::string("ABCDEFGHIKLMNPRSTUVXYZ0123456789")) {
    CAPTURE(c);
    const TextExtent e = text_extent(std::string(1, c), 3.5);
    CHECK(e.top == Approx(3.5).margin(1e-9));
    CHECK(e.bottom == Approx(0.0).margin(1e-9));
  }
}

TEST_CASE("small letters are 7/10 high and tails 3/10 deep", "[drawings][lettering]") {
  // ISO 3098-1 type B (from memory).
  for (const char c : std::string("acemnorsuvwxz")) {
    CAPTURE(c);
    CHECK(text_extent(std::string(1, c), 10.0).top == Approx(7.0));
  }
  for (const char c : std::string("gjpqy")) {
    CAPTURE(c);
    CHECK(text_extent(std::string(1, c), 10.0).bottom == Approx(-3.0));
  }
}

TEST_CASE("every printable ASCII character and the signs of the trade can be lettered",
          "[drawings][lettering]") {
  std::string all;
  for (char c = ' '; c <= '~'; ++c) all += c;
  CHECK(can_letter(all));
  CHECK(can_letter("Ø ± ° × ↧ µ äöüßéñçÅ –…"));
  CHECK_FALSE(can_letter("漢"));
  CHECK_FALSE(can_letter("\xff"));
}

TEST_CASE("the known extent is that of the strokes", "[drawings][lettering]") {
  for (const char* text :
       {"Drawer side left", "5 13/64", "Ø12.5 ± 0.1", "M8 ↧ 25", "Ärmel, Öse", "jgpqy|{}@#"}) {
    CAPTURE(text);
    const TextExtent known = text_extent(text, 2.5);
    const TextExtent seen = measured(text, 2.5);
    CHECK(known.right == Approx(seen.right).margin(0.02));
    CHECK(known.left == Approx(std::min(0.0, seen.left)).margin(0.02));
    CHECK(known.top == Approx(seen.top).margin(0.02));
    CHECK(known.bottom == Approx(seen.bottom).margin(0.02));
  }
}

TEST_CASE("letters stand 2/10 and words 6/10 apart", "[drawings][lettering]") {
  // ISO 3098-1 type B: spacing a = 2/10 h, words e = 6/10 h (from memory).
  const double two = text_width("HH", 10.0);
  CHECK(two == Approx(2 * text_width("H", 10.0) + 2.0));
  CHECK(text_width("H H", 10.0) == Approx(2 * text_width("H", 10.0) + 6.0));
}

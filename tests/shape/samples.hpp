#pragma once

#include "shape/sections.hpp"
#include "shape/shape.hpp"

#include <cmath>
#include <random>
#include <string>
#include <vector>

/// Shapes to try, and a direct test of whether a point lies in one that shares no code with the
/// library.
namespace samples {

using namespace ribbay;

inline Shape prism(Region section, double height, std::vector<Cut> cuts = {}) {
  return {{{Prism{std::move(section), height, std::move(cuts), {}, {}}, {}}}};
}

struct Named {
  std::string name;
  Region section;
};

inline std::vector<Named> section_families() {
  SlottedSizes no_bore;
  no_bore.core_bore = 0.0;
  SlottedSizes wide;
  wide.across = 2;
  SlottedSizes big;
  big.across = 2;
  big.up = 2;
  return {{"flat", flat_section(40, 5)},
          {"flat with round corners", flat_section(40, 5, 1)},
          {"round bar", tube_section(20, 10)},
          {"tube", tube_section(30, 2)},
          {"i-beam", i_beam_section(80, 46, 3.8, 5.2, 5)},
          {"hollow", hollow_section(40, 20, 2, 4, 2)},
          {"angle", angle_section(40, 30, 4, 6, 3)},
          {"channel", channel_section(50, 25, 3, 4, 5)},
          {"slotted", slotted_section({})},
          {"slotted without bore", slotted_section(no_bore)},
          {"slotted, two cells", slotted_section(wide)},
          {"slotted, four cells", slotted_section(big)},
          {"slotted outline", slotted_outline({})}};
}

class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double between(double lo, double hi) {
    return lo + (hi - lo) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  double millimetres(double lo, double hi) { return std::round(between(lo, hi)); }
  int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }

 private:
  std::mt19937 engine_;
};

/// A convex outline with corners at random on an ellipse, some of them rounded.
inline Loop random_convex(Dice& dice, Vec2 centre, double size) {
  Loop loop;
  const int n = 3 + dice.below(4);
  for (int i = 0; i < n; ++i) {
    const double angle = (i + dice.between(-0.3, 0.3)) * 6.283185307179586 / n;
    loop.push_back({centre + Vec2{size * std::cos(angle), 0.7 * size * std::sin(angle)},
                    dice.below(2) == 0 ? 0.0 : size / 12.0});
  }
  return loop;
}

/// A panel with what a shop cuts into one: notches at corners, dados through and stopped, rebates,
/// round and odd cut-outs. Cuts overlap each other, reach past the edges and share edges as they
/// please.
inline Shape random_panel(unsigned seed) {
  Dice dice(seed);
  const double w = dice.millimetres(300, 900);
  const double h = dice.millimetres(200, 600);
  const double t = 6.0 + 3.0 * dice.below(5);
  Region section{rectangle({0, 0}, {w, h}, dice.below(3) == 0 ? 20.0 : 0.0), {}};
  if (dice.below(2) == 0)
    section.holes.push_back(reversed(circle({w / 2, h / 2}, dice.millimetres(20, 80))));
  if (dice.below(3) == 0)
    section.holes.push_back(reversed(rectangle({30, 30}, {80, 90}, dice.below(2) * 8.0)));

  std::vector<Cut> cuts;
  const int count = dice.below(7);
  for (int i = 0; i < count; ++i) {
    const double x = dice.millimetres(0, w);
    const double y = dice.millimetres(0, h);
    const double depth = dice.below(2) == 0 ? t / 2.0 : t / 3.0;
    switch (dice.below(6)) {
      case 0:
        cuts.push_back({rectangle({-5, -5}, {40, dice.millimetres(20, 80)}), -1, t + 1});
        break;
      case 1:
        cuts.push_back({rectangle({x, -1}, {x + t, h + 1}), t - depth, t + 1});
        break;
      case 2:
        cuts.push_back({rectangle({x, 0}, {x + t, h / 2}, t / 4), 0, depth});
        break;
      case 3:
        cuts.push_back({rectangle({-1, h - 12}, {w + 1, h + 1}), t - depth, t});
        break;
      case 4:
        cuts.push_back({circle({x, y}, dice.millimetres(10, 120)), -1, t + 1});
        break;
      default:
        cuts.push_back({random_convex(dice, {x, y}, dice.between(20, 90)), -1, depth});
    }
  }
  return prism(std::move(section), t, std::move(cuts));
}

/// The outline in short straight steps.
inline std::vector<Vec2> fine_polygon(const Loop& loop) {
  std::vector<Vec2> points;
  for (const Side& side : sides(loop)) {
    points.push_back(side.a);
    if (!side.arc) continue;
    const double start = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
    double turn = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x) - start;
    while (side.counter_clockwise && turn < 0.0) turn += 2.0 * M_PI;
    while (!side.counter_clockwise && turn > 0.0) turn -= 2.0 * M_PI;
    for (int i = 1; i < 400; ++i) {
      const double angle = start + turn * i / 400.0;
      points.push_back(side.centre + Vec2{std::cos(angle), std::sin(angle)} * side.radius);
    }
  }
  return points;
}

/// A shape of one prism in straight steps, for asking about points.
class Solid {
 public:
  explicit Solid(const Prism& prism) : prism_(prism), outer_(fine_polygon(prism.section.outer)) {
    for (const Loop& hole : prism.section.holes) holes_.push_back(fine_polygon(hole));
    for (const Cut& cut : prism.cuts) cuts_.push_back(fine_polygon(cut.outline));
  }

  bool contains(Vec3 p) const {
    const Vec2 q{p.x, p.y};
    if (p.z < 0.0 || p.z > prism_.height || !inside(outer_, q)) return false;
    for (const auto& hole : holes_)
      if (inside(hole, q)) return false;
    for (std::size_t i = 0; i < cuts_.size(); ++i)
      if (prism_.cuts[i].from < p.z && p.z < prism_.cuts[i].to && inside(cuts_[i], q)) return false;
    return true;
  }

  /// Distance to the nearest outline in plan, or to the nearest level.
  double clearance(Vec3 p) const {
    double least = std::min(std::abs(p.z), std::abs(p.z - prism_.height));
    const auto look = [&](const std::vector<Vec2>& polygon) {
      for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i];
        const Vec2 d = polygon[(i + 1) % polygon.size()] - a;
        const Vec2 q = Vec2{p.x, p.y} - a;
        const double s = std::clamp(dot(q, d) / dot(d, d), 0.0, 1.0);
        least = std::min(least, length(q - d * s));
      }
    };
    look(outer_);
    for (const auto& hole : holes_) look(hole);
    for (const auto& cut : cuts_) look(cut);
    for (const Cut& cut : prism_.cuts)
      least = std::min({least, std::abs(p.z - cut.from), std::abs(p.z - cut.to)});
    return least;
  }

 private:
  static bool inside(const std::vector<Vec2>& polygon, Vec2 p) {
    bool in = false;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
      const Vec2 a = polygon[i];
      const Vec2 b = polygon[j];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
        in = !in;
    }
    return in;
  }

  const Prism& prism_;
  std::vector<Vec2> outer_;
  std::vector<std::vector<Vec2>> holes_;
  std::vector<std::vector<Vec2>> cuts_;
};

}  // namespace samples

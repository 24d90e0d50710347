#include "shape/sections.hpp"

#include <array>

namespace ribbay {
namespace {

Loop centred_rectangle(double width, double height, double radius) {
  return rectangle({-width / 2.0, -height / 2.0}, {width / 2.0, height / 2.0}, radius);
}

/// One side of a slotted profile.
struct SlotSide {
  Vec2 along;  ///< the way the outline runs, counter-clockwise
  Vec2 inward;
};

void add_slot(Loop& loop, Vec2 middle, const SlotSide& side, const SlottedSizes& s) {
  const auto at = [&](double along, double in) {
    loop.push_back({middle + side.along * along + side.inward * in});
  };
  at(-s.opening / 2.0, 0.0);
  at(-s.opening / 2.0, s.lip);
  at(-s.cavity / 2.0, s.lip);
  at(-s.floor / 2.0, s.depth);
  at(s.floor / 2.0, s.depth);
  at(s.cavity / 2.0, s.lip);
  at(s.opening / 2.0, s.lip);
  at(s.opening / 2.0, 0.0);
}

/// The chamber about the joint of two cells, whose centres lie along `axis` from each other.
Loop chamber(Vec2 joint, Vec2 axis, const SlottedSizes& s) {
  const Vec2 side = perpendicular(axis);
  Loop loop;
  const auto at = [&](double along, double across) {
    loop.push_back({joint + axis * along + side * across});
  };
  at(s.depth, s.floor / 2.0);
  at(s.lip, s.cavity / 2.0);
  at(-s.lip, s.cavity / 2.0);
  at(-s.depth, s.floor / 2.0);
  at(-s.depth, -s.floor / 2.0);
  at(-s.lip, -s.cavity / 2.0);
  at(s.lip, -s.cavity / 2.0);
  at(s.depth, -s.floor / 2.0);
  return reversed(loop);
}

}  // namespace

Region flat_section(double width, double height, double radius) {
  return {centred_rectangle(width, height, radius), {}};
}

Region i_beam_section(double h, double b, double tw, double tf, double r) {
  const double x = b / 2.0;
  const double y = h / 2.0;
  const double w = tw / 2.0;
  const double f = y - tf;
  return {{{{-x, -y}},
           {{x, -y}},
           {{x, -f}},
           {{w, -f}, r},
           {{w, f}, r},
           {{x, f}},
           {{x, y}},
           {{-x, y}},
           {{-x, f}},
           {{-w, f}, r},
           {{-w, -f}, r},
           {{-x, -f}}},
          {}};
}

Region hollow_section(double h, double b, double t, double r_out, double r_in) {
  return {centred_rectangle(b, h, r_out),
          {reversed(centred_rectangle(b - 2.0 * t, h - 2.0 * t, r_in))}};
}

Region tube_section(double diameter, double wall) {
  Region region{circle({0.0, 0.0}, diameter), {}};
  if (wall < diameter / 2.0)
    region.holes.push_back(reversed(circle({0.0, 0.0}, diameter - 2.0 * wall)));
  return region;
}

Region angle_section(double a, double b, double t, double r_root, double r_toe) {
  const double x = b / 2.0;
  const double y = a / 2.0;
  return {{{{-x, -y}},
           {{x, -y}},
           {{x, t - y}, r_toe},
           {{t - x, t - y}, r_root},
           {{t - x, y}, r_toe},
           {{-x, y}}},
          {}};
}

Region channel_section(double h, double b, double t_web, double t_flange, double r) {
  const double x = b / 2.0;
  const double y = h / 2.0;
  return {{{{-x, -y}},
           {{x, -y}},
           {{x, t_flange - y}},
           {{t_web - x, t_flange - y}, r},
           {{t_web - x, y - t_flange}, r},
           {{x, y - t_flange}},
           {{x, y}},
           {{-x, y}}},
          {}};
}

Region slotted_section(const SlottedSizes& s) {
  const double half_x = s.cell * s.across / 2.0;
  const double half_y = s.cell * s.up / 2.0;
  Region region;

  const std::array<SlotSide, 4> around{
      {{{1, 0}, {0, 1}}, {{0, 1}, {-1, 0}}, {{-1, 0}, {0, -1}}, {{0, -1}, {1, 0}}}};
  const std::array<Vec2, 4> corners{
      {{-half_x, -half_y}, {half_x, -half_y}, {half_x, half_y}, {-half_x, half_y}}};
  for (std::size_t k = 0; k < 4; ++k) {
    region.outer.push_back({corners[k], s.corner_radius});
    const int cells = k % 2 == 0 ? s.across : s.up;
    for (int i = 0; i < cells; ++i)
      add_slot(region.outer, corners[k] + around[k].along * (s.cell * (i + 0.5)), around[k], s);
  }

  for (int i = 0; i < s.across; ++i)
    for (int j = 0; j < s.up; ++j) {
      const Vec2 centre{s.cell * (i + 0.5) - half_x, s.cell * (j + 0.5) - half_y};
      const double half = s.cell / 2.0;
      if (s.core_bore > 0.0) region.holes.push_back(reversed(circle(centre, s.core_bore)));
      if (i + 1 < s.across) region.holes.push_back(chamber(centre + Vec2{half, 0.0}, {1, 0}, s));
      if (j + 1 < s.up) region.holes.push_back(chamber(centre + Vec2{0.0, half}, {0, 1}, s));
    }
  return region;
}

Region slotted_outline(const SlottedSizes& s) {
  return {centred_rectangle(s.cell * s.across, s.cell * s.up, s.corner_radius), {}};
}

}  // namespace ribbay

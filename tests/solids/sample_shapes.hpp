#pragma once

#include "shape/shape.hpp"

#include <string>
#include <vector>

/// Shapes of every kind that layouts are made of, for the tests of everything that reads shapes.
namespace ribbay::samples {

inline Shape prism(Region section, double height, std::vector<Cut> cuts = {},
                   std::vector<Bore> bores = {}) {
  return {{{Prism{.section = std::move(section),
                  .height = height,
                  .cuts = std::move(cuts),
                  .bores = std::move(bores),
                  .coarse = {}},
            Frame{}}}};
}

/// IPE 80: 80 x 46, web 3.8, flange 5.2, root radius 5 (EN 10365).
inline Region ipe_80() {
  const double x = 23.0;
  const double y = 40.0;
  const double web = 1.9;
  const double flange = y - 5.2;
  return {{{{-x, -y}},
           {{x, -y}},
           {{x, -flange}},
           {{web, -flange}, 5.0},
           {{web, flange}, 5.0},
           {{x, flange}},
           {{x, y}},
           {{-x, y}},
           {{-x, flange}},
           {{-web, flange}, 5.0},
           {{-web, -flange}, 5.0},
           {{-x, -flange}}},
          {}};
}

/// Cold-formed hollow section 40 x 20 x 2: outer radius 2 t, inner radius t (EN 10219-2).
inline Region tube_40_20_2() {
  return {rectangle({-20, -10}, {20, 10}, 4.0), {reversed(rectangle({-18, -8}, {18, 8}, 2.0))}};
}

/// Angle 150 x 90 x 12 with root radius 10 and toe radii 5, heel at the origin.
inline Region angle_150_90_12() {
  return {{{{0, 0}}, {{90, 0}}, {{90, 12}, 5.0}, {{12, 12}, 10.0}, {{12, 150}, 5.0}, {{0, 150}}},
          {}};
}

/// An invented slotted profile 40 x 40 with a core bore, slots on all sides and rounded corners.
inline Region slotted_40() {
  // One quarter, counter-clockwise from the slot that faces +x to the one that faces +y.
  const std::vector<Corner> quarter{{{8, 4}},    {{12, 8}},       {{15.5, 8}}, {{15.5, 4}},
                                    {{20, 4}},   {{20, 20}, 1.5}, {{4, 20}},   {{4, 15.5}},
                                    {{8, 15.5}}, {{8, 12}},       {{4, 8}}};
  Region region;
  double c = 1.0;
  double s = 0.0;
  for (int turn = 0; turn < 4; ++turn) {
    for (const Corner& corner : quarter) {
      const Vec2 p = corner.at;
      region.outer.push_back({{c * p.x - s * p.y, s * p.x + c * p.y}, corner.radius});
    }
    const double next = -s;
    s = c;
    c = next;
  }
  region.holes.push_back(reversed(circle({0, 0}, 6.8)));
  return region;
}

/// Two slotted profiles in one: 80 x 40 with two core bores is left to the catalogue; a flat will
/// do here.
inline Region flat_40_5() {
  return {rectangle({-20, -2.5}, {20, 2.5}), {}};
}

inline Bore bore(Vec3 at, Vec3 direction, double diameter, double depth, bool through = false) {
  return {.at = at,
          .direction = direction,
          .diameter = diameter,
          .depth = depth,
          .through = through,
          .thread = {},
          .role = BoreRole::bolt};
}

/// A cabinet side: 400 x 600 x 18 with two dados, a rebate for the back, a notch and a rounded
/// cut-out.
inline Shape cabinet_side() {
  return prism({rectangle({0, 0}, {400, 600}), {}}, 18.0,
               {{rectangle({-5, 100}, {405, 115.2}), 12.0, 18.0, CutRole::dado},
                {rectangle({0, 400}, {394, 415.2}), 12.0, 18.0, CutRole::dado},
                {rectangle({394, 0}, {400, 600}), 9.0, 18.0, CutRole::rebate},
                {rectangle({0, 0}, {50, 70}), 0.0, 18.0, CutRole::toe_space},
                {rectangle({150, 200}, {250, 300}, 20.0), 0.0, 18.0, CutRole::cut_out}});
}

/// The same side, drilled: shelf pins from the face, a cup for a hinge, bolts right through, and
/// dowels from the edge.
inline Shape drilled_side() {
  Shape shape = cabinet_side();
  std::vector<Bore>& bores = shape.prisms.front().prism.bores;
  for (int i = 0; i < 6; ++i) bores.push_back(bore({60, 140.0 + 32 * i, 18}, {0, 0, -1}, 5, 11));
  bores.push_back(bore({300, 500, 0}, {0, 0, 1}, 35, 12.5));
  bores.push_back(bore({100, 350, 18}, {0, 0, -1}, 8.4, 18, true));
  bores.push_back(bore({0, 350, 9}, {1, 0, 0}, 8, 30));
  bores.push_back(bore({0, 550, 9}, {1, 0, 0}, 8, 30));
  return shape;
}

/// An L-shaped panel with a dado in line with the inner corner: its end lies on one face and runs
/// on into material past it.
inline Shape l_panel() {
  return prism({{{{0, 0}}, {{300, 0}}, {{300, 100}}, {{120, 100}}, {{120, 250}}, {{0, 250}}}, {}},
               15.0,
               {{rectangle({60, 85}, {300, 100}), 10.0, 15.0, CutRole::dado},
                {rectangle({105, 40}, {120, 250}), 0.0, 4.0, CutRole::groove}});
}

/// A panel that needs a corner cut away right up to slanted and rounded sides.
inline Shape slanted_panel() {
  return prism(
      {{{{0, 0}, 30.0}, {{400, 0}}, {{320, 240}}, {{0, 200}}}, {reversed(circle({150, 100}, 60))}},
      12.0,
      {{{{{290, 120}}, {{360, 120}}, {{320, 240}}, {{270, 233.75}}}, 6.0, 12.0, CutRole::rebate},
       {rectangle({130, -1}, {170, 60}), 0.0, 5.0, CutRole::groove}});
}

/// A post, drilled across for bolts, tapped at its end, with a step milled into the other end.
inline Shape drilled_post() {
  return prism(
      slotted_40(), 640.0, {{rectangle({-20, 0}, {20, 20}), 600.0, 640.0, CutRole::notch}},
      {bore({-20, 0, 100}, {1, 0, 0}, 8.4, 40, true), bore({0, 20, 300}, {0, -1, 0}, 6.6, 40, true),
       bore({0, 0, 0}, {0, 0, 1}, 8.0, 25)});
}

/// A bolt: shank and head.
inline Shape bolt() {
  return {
      {cylinder(8.0, 25.0), cylinder(13.0, 5.0, {{0, 0, 25}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}})}};
}

/// An inside-corner bracket: two legs that overlap in the corner, a bolt hole in each.
inline Shape bracket() {
  Prism flat{.section = {rectangle({0, 0}, {40, 35}, 0.0), {}},
             .height = 5.0,
             .cuts = {},
             .bores = {bore({27, 17.5, 5}, {0, 0, -1}, 8.4, 5, true)},
             .coarse = {}};
  Prism upright{.section = {rectangle({0, 0}, {35, 40}), {}},
                .height = 5.0,
                .cuts = {},
                .bores = {bore({17.5, 27, 5}, {0, 0, -1}, 8.4, 5, true)},
                .coarse = {}};
  return {{{flat, {}}, {upright, frame_zx({0, 0, 0}, {1, 0, 0}, {0, 1, 0})}}};
}

struct Named {
  std::string name;
  Shape shape;
};

/// One prism each, so that what pieces() covers can be added up.
inline std::vector<Named> single_prisms() {
  return {{"plain panel", box_shape({10, 20, 30}, {410, 320, 48})},
          {"cabinet side", cabinet_side()},
          {"drilled side", drilled_side()},
          {"L-shaped panel", l_panel()},
          {"slanted panel", slanted_panel()},
          {"I-beam", prism(ipe_80(), 1000)},
          {"rectangular tube", prism(tube_40_20_2(), 750)},
          {"angle", prism(angle_150_90_12(), 300)},
          {"flat", prism(flat_40_5(), 220)},
          {"slotted profile", prism(slotted_40(), 560)},
          {"drilled post", drilled_post()},
          {"rod", {{cylinder(12, 80, frame_zx({5, 6, 7}, {0, 1, 0}, {0, 0, 1}))}}}};
}

inline std::vector<Named> all() {
  std::vector<Named> samples = single_prisms();
  samples.push_back({"bolt", bolt()});
  samples.push_back({"bracket", bracket()});
  return samples;
}

}  // namespace ribbay::samples

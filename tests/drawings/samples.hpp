#pragma once

#include "layout/layout.hpp"

#include <algorithm>

/// Layouts made by hand, so that the tests of drawings depend on no module kind.
namespace samples {

using namespace ribbay;

/// A slotted profile of 40 x 40 with a core bore, in invented but ordinary proportions.
inline Profile slotted_40() {
  Profile p;
  p.key = "slotted_40";
  p.title = "Slotted profile 40";
  p.family = ProfileFamily::slotted;
  p.material = "aluminium";
  p.width = p.height = 40.0;
  Loop outline;
  // One side's slot, turned four times about the middle.
  const Vec2 side[] = {{-20, -20}, {-4, -20}, {-4, -15.5}, {-10, -15.5}, {-10, -13}, {-5, -8},
                       {5, -8},    {10, -13}, {10, -15.5}, {4, -15.5},   {4, -20}};
  for (int turn = 0; turn < 4; ++turn) {
    for (const Vec2 s : side) {
      Vec2 v = s;
      for (int k = 0; k < turn; ++k) v = perpendicular(v);
      outline.push_back({v, &s == &side[0] ? 2.0 : 0.0});
    }
  }
  p.section = {outline, {reversed(circle({0, 0}, 6.8))}};
  p.coarse = Region{rectangle({-20, -20}, {20, 20}, 2.0), {}};
  p.core_bore = 6.8;
  p.stock_lengths = {6000};
  return p;
}

inline std::shared_ptr<Catalogue> catalogue() {
  auto c = std::make_shared<Catalogue>();
  Material aluminium;
  aluminium.key = "aluminium";
  aluminium.title = "Aluminium EN AW-6060";
  c->materials["aluminium"] = aluminium;
  Material birch;
  birch.key = "birch";
  birch.title = "Birch plywood";
  c->materials["birch"] = birch;
  c->profiles["slotted_40"] = slotted_40();
  Sheet sheet;
  sheet.key = "birch_12";
  sheet.title = "Birch plywood 12 mm";
  sheet.material = "birch";
  sheet.nominal = 12;
  sheet.thickness = 11.8;
  sheet.length = 2500;
  sheet.width = 1250;
  sheet.grain = true;
  c->sheets["birch_12"] = sheet;
  return c;
}

inline Part member(const std::string& id, const std::string& title, Vec3 from, Vec3 along,
                   Vec3 across, double length, std::vector<Bore> bores = {}) {
  Part part;
  part.id = id;
  part.module = id.substr(0, id.find('/'));
  part.title = title;
  part.kind = PartKind::member;
  part.material = "aluminium";
  part.stock = {"slotted_40", length, 0, 0, false};
  const Profile p = slotted_40();
  part.shape = std::make_shared<Shape>(
      Shape{{{Prism{p.section, length, {}, std::move(bores), p.coarse}, {}}}});
  part.frame = frame_zx(from, along, across);
  part.mass_kg = 1.6 * length / 1000.0;
  return part;
}

/// A panel whose face spans length x width from `corner` along `x` and `y`; its face looks along x
/// cross y.
inline Part panel(const std::string& id, const std::string& title, Vec3 corner, Vec3 x, Vec3 y,
                  double length, double width, std::vector<Cut> cuts = {},
                  std::vector<Bore> bores = {}) {
  Part part;
  part.id = id;
  part.module = id.substr(0, id.find('/'));
  part.title = title;
  part.kind = PartKind::panel;
  part.material = "birch";
  part.stock = {"birch_12", length, width, 11.8, true};
  part.shape = std::make_shared<Shape>(Shape{
      {{Prism{
            {rectangle({0, 0}, {length, width}), {}}, 11.8, std::move(cuts), std::move(bores), {}},
        {}}}});
  part.frame = {corner, x, y, cross(x, y)};
  part.mass_kg = length * width * 11.8 * 6.8e-7;
  return part;
}

inline Bore drill(Vec3 at, Vec3 direction, double diameter, double depth, BoreRole role,
                  bool through = false, std::string thread = {}) {
  return {at, direction, diameter, depth, through, std::move(thread), role};
}

inline void finish(Layout& layout) {
  std::ranges::sort(layout.parts, {}, &Part::id);
  for (Module& m : layout.modules) {
    for (const Part& p : layout.parts) {
      if (p.module == m.name) m.envelope.add(bounds(p));
    }
  }
}

/// A rack of four posts, rails on three levels and shelves, front looking to the rear.
inline Layout rack() {
  Layout layout;
  layout.project = {"Sample", "Sample van", "2026-11-24", "Test workshop", LengthStyle::millimetres,
                    true};
  layout.catalogue = catalogue();
  layout.modules.push_back({"rack", "rack", "Rack", {}, "rear", {}});
  const double width = 1100, depth = 560, height = 900;
  const std::vector<double> levels{40, 420, 900};
  int post = 0;
  for (const double x : {20.0, depth - 20.0}) {
    for (const double y : {-width / 2 + 20, width / 2 - 20}) {
      std::vector<Bore> holes;
      for (const double z : levels) {
        holes.push_back(drill({0, 20, z - 20}, {0, -1, 0}, 7, 40, BoreRole::access, true));
        holes.push_back(drill({20, 0, z - 20}, {-1, 0, 0}, 7, 40, BoreRole::access, true));
      }
      holes.push_back(drill({0, 0, 0}, {0, 0, 1}, 8, 25, BoreRole::end_tap, false, "M8"));
      layout.parts.push_back(member("rack/post." + std::to_string(++post), "Post", {100 + x, y, 0},
                                    {0, 0, 1}, {1, 0, 0}, height, std::move(holes)));
    }
  }
  int level = 0;
  for (const double z : levels) {
    ++level;
    for (const double x : {20.0, depth - 20.0}) {
      layout.parts.push_back(
          member("rack/rail." + std::to_string(level) + (x < 100 ? ".front" : ".back"), "Rail",
                 {100 + x, -width / 2 + 40, z - 20}, {0, 1, 0}, {1, 0, 0}, width - 80,
                 {drill({0, 0, 0}, {0, 0, 1}, 8, 25, BoreRole::end_tap, false, "M8"),
                  drill({0, 0, width - 80}, {0, 0, -1}, 8, 25, BoreRole::end_tap, false, "M8")}));
    }
    for (const double y : {-width / 2 + 20, width / 2 - 20}) {
      layout.parts.push_back(
          member("rack/tie." + std::to_string(level) + (y < 0 ? ".right" : ".left"), "Tie",
                 {140, y, z - 20}, {1, 0, 0}, {0, 1, 0}, depth - 80));
    }
    layout.parts.push_back(panel("rack/shelf." + std::to_string(level), "Shelf",
                                 {100, -width / 2, z}, {0, 1, 0}, {-1, 0, 0}, width, depth, {},
                                 {}));
    layout.parts.back().frame = {{100 + depth, -width / 2, z}, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}};
  }
  finish(layout);
  return layout;
}

/// A cabinet of panels with dados, a rebate, a notch, shelf pins and fronts, front looking to the
/// left.
inline Layout cabinet() {
  Layout layout;
  layout.project = {"Sample", "Sample van", "2026-11-24", "Test workshop", LengthStyle::millimetres,
                    true};
  layout.catalogue = catalogue();
  layout.modules.push_back({"galley", "galley", "Galley", {}, "left", {}});
  const double t = 11.8, depth = 480, height = 880, width = 900;
  const auto side_cuts = [&](bool left) {
    const double face = t;
    std::vector<Cut> cuts;
    const double from = left ? face - 4 : 0, to = left ? face + 1 : 4;
    cuts.push_back({rectangle({100, -1}, {112, depth + 1}), left ? from : -1, to, CutRole::dado});
    cuts.push_back({rectangle({-1, depth - 12}, {height + 1, depth + 1}), left ? face - 6 : -1,
                    left ? face + 1 : 6, CutRole::rebate});
    cuts.push_back({rectangle({-10, -10}, {80, 60}, 5), -1, face + 1, CutRole::notch});
    return cuts;
  };
  const auto pins = [&](bool left) {
    std::vector<Bore> bores;
    for (const double y : {60.0, 420.0}) {
      for (int i = 0; i < 12; ++i) {
        const double x = 250 + 32 * i;
        bores.push_back(left ? drill({x, y, t}, {0, 0, -1}, 5, 8, BoreRole::shelf_pin)
                             : drill({x, y, 0}, {0, 0, 1}, 5, 8, BoreRole::shelf_pin));
      }
    }
    bores.push_back(drill({106, 60, t}, {0, 0, -1}, 4, t, BoreRole::screw, true));
    bores.push_back(drill({106, 420, t}, {0, 0, -1}, 4, t, BoreRole::screw, true));
    return bores;
  };
  // Panels stand with their length upwards. x runs along the van, y out of the wall.
  layout.parts.push_back(panel("galley/side.left", "Side left", {500, 600, 0}, {0, 0, 1},
                               {0, -1, 0}, height, depth, side_cuts(true), pins(true)));
  layout.parts.push_back(panel("galley/side.right", "Side right", {500 + width - t, 600, 0},
                               {0, 0, 1}, {0, -1, 0}, height, depth, side_cuts(false),
                               pins(false)));
  layout.parts.push_back(panel("galley/bottom", "Bottom", {500 + t - 4, 600, 100}, {1, 0, 0},
                               {0, -1, 0}, width - 2 * t + 8, depth - 12, {}, {}));
  layout.parts.back().frame = {
      {500 + t - 4, 600 - depth + 12, 100}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  layout.parts.push_back(panel("galley/worktop", "Worktop", {490, 110, height}, {1, 0, 0},
                               {0, 1, 0}, width + 20, depth + 20,
                               {{rectangle({300, 80}, {700, 400}, 20), -1, 12.8, CutRole::cut_out}},
                               {drill({100, 250, t}, {0, 0, -1}, 35, t, BoreRole::access, true)}));
  layout.parts.push_back(
      panel("galley/back", "Back", {500, 132, 0}, {1, 0, 0}, {0, 0, 1}, width, height));
  const double fronts[] = {140, 260, 360};
  double z = 103;
  for (int i = 0; i < 3; ++i) {
    layout.parts.push_back(
        panel("galley/front." + std::to_string(i + 1), "Drawer front", {502, 600, z}, {1, 0, 0},
              {0, 0, 1}, width - 4, fronts[i], {},
              {drill({340, fronts[i] / 2, 0}, {0, 0, 1}, 5, t, BoreRole::handle, true),
               drill({500, fronts[i] / 2, 0}, {0, 0, 1}, 5, t, BoreRole::handle, true)}));
    layout.parts.back().frame = {{502, 612, z}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
    z += fronts[i] + 3;
  }
  finish(layout);
  return layout;
}

}  // namespace samples

// Not run by default: clearance_tests "[.speed]" prints how long a van full of modules takes.
#include "clearance/clearance.hpp"
#include "scenes.hpp"

#include <ctime>
#include <iostream>

using namespace ribbay;
using scenes::box_part;

namespace {

/// A slotted 40 mm profile as plain strips: a core and four flanges.
Shape slotted(double length_mm) {
  Shape shape = box_shape({-7, -7, 0}, {7, 7, length_mm});
  for (const double x : {-20.0, 9.0}) {
    for (const double y : {-20.0, 9.0}) {
      shape.prisms.push_back(box_shape({x, y, 0}, {x + 11, y + 11, length_mm}).prisms.front());
    }
  }
  for (const double d : {-9.0, 7.0}) {
    shape.prisms.push_back(box_shape({d, -1.5, 0}, {d + 2, 1.5, length_mm}).prisms.front());
    shape.prisms.push_back(box_shape({-1.5, d, 0}, {1.5, d + 2, length_mm}).prisms.front());
  }
  return shape;
}

/// 300 bodies: ten cabinets with two drawers each, with members of nine pieces and panels.
Layout full_van() {
  std::vector<Part> parts;
  Layout layout;
  for (int c = 0; c < 10; ++c) {
    const Vec3 at{200.0 + 350 * (c % 5), c < 5 ? -880.0 : 380.0, 0};
    const std::string module = "cabinet_" + std::to_string(c) + "/";
    const auto add_box = [&](const std::string& name, Vec3 lo, Vec3 hi) {
      parts.push_back(box_part(module + name, at + lo, at + hi));
    };
    for (int k = 0; k < 4; ++k) {
      parts.push_back(
          scenes::part(module + "post_" + std::to_string(k), slotted(800),
                       Frame{at + Vec3{20.0 + 300 * (k % 2), 20.0 + 460 * (k / 2), 0}}));
    }
    for (int k = 0; k < 6; ++k) {
      parts.push_back(scenes::part(module + "rail_" + std::to_string(k), slotted(260),
                                   Frame{at + Vec3{40, 20.0 + 460 * (k % 2), 20.0 + 380 * (k / 2)},
                                         {0, 1, 0},
                                         {0, 0, 1},
                                         {1, 0, 0}}));
    }
    for (int k = 0; k < 3; ++k) {
      add_box("shelf_" + std::to_string(k), {40, 40, 400.0 * k - 18 + 18},
              {300, 460, 400.0 * k + 15});
    }
    for (int d = 0; d < 2; ++d) {
      const double z = 60 + 380 * d;
      const std::string name = "drawer_" + std::to_string(d) + ".";
      add_box(name + "front", {2, c < 5 ? 501.0 : -19.0, z}, {338, c < 5 ? 519.0 : -1.0, z + 300});
      add_box(name + "left", {52, 50, z}, {64, 450, z + 200});
      add_box(name + "right", {276, 50, z}, {288, 450, z + 200});
      add_box(name + "back", {64, 50, z}, {276, 62, z + 200});
      add_box(name + "inner", {64, 438, z}, {276, 450, z + 200});
      add_box(name + "bottom", {64, 62, z}, {276, 438, z + 6});
      Motion motion;
      motion.id = module + "drawer_" + std::to_string(d);
      motion.axis = {0, c < 5 ? 1.0 : -1.0, 0};
      motion.travel = motion.required = 400;
      for (const char* part : {"front", "left", "right", "back", "inner", "bottom"}) {
        motion.parts.push_back(module + name + part);
      }
      layout.motions.push_back(motion);
    }
    for (int k = 0; k < 5; ++k) {
      parts.push_back(
          scenes::part(module + "foot_" + std::to_string(k),
                       Shape{{cylinder(30, 20, Frame{at + Vec3{60.0 + 50 * k, 250, 780 + 15}})}}));
    }
    Motion door;
    door.id = module + "door";
    door.kind = MotionKind::rotation;
    door.origin = at + Vec3{0, 501, 0};
    door.travel = door.required = 1.5;
    door.parts = {module + "drawer_0.front"};
    layout.motions.push_back(door);
  }
  layout.parts = scenes::layout_of(std::move(parts)).parts;
  layout.vehicle = scenes::plain_van();
  return layout;
}

}  // namespace

TEST_CASE("speed of all checks of a full van", "[.speed]") {
  const Layout layout = full_van();
  for (const int jobs : {1, 1, 1, 2}) {
    const std::clock_t start = std::clock();
    const ClearanceResult result = check_clearance(layout, jobs);
    const double took = 1e3 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    std::cout << "jobs " << jobs << ": " << result.bodies << " bodies, " << result.pieces
              << " pieces, " << result.pairs << " pairs, " << result.motions.size() << " motions, "
              << result.findings.size() << " findings: " << took << " ms of processor time\n";
  }
}

#include "shape/sections.hpp"
#include "structure/section.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace ribbay;
using std::numbers::pi;

namespace {

/// The region turned by `angle` about the origin.
Region turned(const Region& region, double angle) {
  const auto turn = [&](Loop loop) {
    for (Corner& c : loop)
      c.at = {c.at.x * std::cos(angle) - c.at.y * std::sin(angle),
              c.at.x * std::sin(angle) + c.at.y * std::cos(angle)};
    return loop;
  };
  Region result{turn(region.outer)};
  for (const Loop& hole : region.holes) result.holes.push_back(turn(hole));
  return result;
}

}  // namespace

TEST_CASE("a rectangle has the properties of any handbook", "[structure][section]") {
  const SectionProperties p = section_properties({moved(rectangle({0, 0}, {40, 10}), {100, 200})});
  CHECK(p.area == Approx(400.0));
  CHECK(p.centroid.x == Approx(120.0));
  CHECK(p.centroid.y == Approx(205.0));
  CHECK(p.ixx == Approx(40.0 * 1000.0 / 12.0));
  CHECK(p.iyy == Approx(10.0 * 64000.0 / 12.0));
  CHECK(p.ixy == Approx(0.0).margin(1e-6));
  CHECK(p.wx_top == Approx(40.0 * 100.0 / 6.0));
  CHECK(p.wy_left == Approx(10.0 * 1600.0 / 6.0));
  CHECK(p.i_major == Approx(p.iyy));
  CHECK(std::abs(p.angle) == Approx(pi / 2.0));
  CHECK(p.w_major == Approx(p.wy_left));
  CHECK(p.w_minor == Approx(p.wx_top));
  CHECK(p.perimeter == Approx(100.0));
  CHECK(p.inner_perimeter == 0.0);
}

TEST_CASE("a tube has the properties of two circles", "[structure][section]") {
  const SectionProperties p = section_properties(tube_section(30, 2));
  CHECK(p.area == Approx(pi * (225.0 - 169.0)));
  CHECK(p.ixx == Approx(pi / 4.0 * (std::pow(15.0, 4) - std::pow(13.0, 4))));
  CHECK(p.iyy == Approx(p.ixx));
  CHECK(p.angle == 0.0);
  CHECK(p.wx_top == Approx(p.ixx / 15.0));
  CHECK(p.perimeter == Approx(pi * 30.0));
  CHECK(p.inner_perimeter == Approx(pi * 26.0));
}

TEST_CASE("principal moments do not depend on how the section lies", "[structure][section]") {
  const Region angle = angle_section(60, 40, 5, 6, 3);
  const SectionProperties flat = section_properties(angle);
  for (double turn = -1.5; turn < 1.6; turn += 0.25) {
    CAPTURE(turn);
    const SectionProperties p = section_properties(turned(angle, turn));
    CHECK(p.area == Approx(flat.area).epsilon(1e-12));
    CHECK(p.i_major == Approx(flat.i_major).epsilon(1e-12));
    CHECK(p.i_minor == Approx(flat.i_minor).epsilon(1e-12));
    CHECK(p.w_major == Approx(flat.w_major).epsilon(1e-10));
    CHECK(p.w_minor == Approx(flat.w_minor).epsilon(1e-10));
    CHECK(p.ixx + p.iyy == Approx(p.i_major + p.i_minor).epsilon(1e-12));
    CHECK(std::remainder(p.angle - flat.angle - turn, pi) == Approx(0.0).margin(1e-9));
    CHECK(torsion_constant(turned(angle, turn), 150) ==
          Approx(torsion_constant(angle, 150)).epsilon(1e-6));
  }
}

TEST_CASE("torsion constants meet the closed forms", "[structure][section]") {
  CHECK(torsion_constant(tube_section(20, 10)) == Approx(pi / 2.0 * 1e4).epsilon(1e-4));
  CHECK(torsion_constant(tube_section(30, 2)) ==
        Approx(pi / 2.0 * (std::pow(15.0, 4) - std::pow(13.0, 4))).epsilon(1e-3));
  // Rectangle b x t: b t^3 (1/3 - 64/pi^5 t/b sum over odd n of tanh(n pi b / 2 t) / n^5)
  // (Saint-Venant)
  for (const double ratio : {1.0, 2.0, 5.0, 20.0}) {
    CAPTURE(ratio);
    double sum = 0.0;
    for (int n = 1; n < 40; n += 2) sum += std::tanh(n * pi * ratio / 2.0) / std::pow(n, 5);
    const double exact = ratio * 10.0 * 1e3 * (1.0 / 3.0 - 64.0 / std::pow(pi, 5) / ratio * sum);
    CHECK(torsion_constant(flat_section(10.0 * ratio, 10.0)) == Approx(exact).epsilon(1e-4));
  }
  // Equilateral triangle of side a: sqrt(3) a^4 / 80, exact (Saint-Venant)
  const double h = std::sqrt(3.0) / 2.0;
  CHECK(torsion_constant({{{{0, 0}}, {{10, 0}}, {{5, 10 * h}}}}) ==
        Approx(std::sqrt(3.0) / 80.0 * 1e4).epsilon(1e-4));
}

TEST_CASE("thin hollow sections approach Bredt", "[structure][section]") {
  // The formula of the standards is for thin walls: the error shrinks with the wall.
  const double thick =
      torsion_constant(hollow_section(60, 40, 4, 8, 4)) / hollow_torsion_constant(60, 40, 4, 8, 4);
  const double thin = torsion_constant(hollow_section(60, 40, 1, 2, 1), 600) /
                      hollow_torsion_constant(60, 40, 1, 2, 1);
  CHECK(thick == Approx(1.0).margin(0.01));
  CHECK(thin == Approx(1.0).margin(0.003));
}

TEST_CASE("a slotted profile twists far more easily than a bar of the same size",
          "[structure][section]") {
  const Region slotted = slotted_section({});
  const double coarse = torsion_constant(slotted, 300);
  CHECK(torsion_constant(slotted, 900) == Approx(coarse).epsilon(0.002));
  CHECK(coarse < 0.2 * torsion_constant(slotted_outline({})));
  CHECK(coarse > 0.0);
}

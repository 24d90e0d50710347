// Panels with cut-outs against exact sums of boxes, and parts beside a tapered van against its wall
// computed point by point.
#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using scenes::Dice;

namespace {

double common(double a_lo, double a_hi, double b_lo, double b_hi) {
  return std::max(0.0, std::min(a_hi, b_hi) - std::max(a_lo, b_lo));
}

double common(const Box& a, const Box& b) {
  return common(a.lo.x, a.hi.x, b.lo.x, b.hi.x) * common(a.lo.y, a.hi.y, b.lo.y, b.hi.y) *
         common(a.lo.z, a.hi.z, b.lo.z, b.hi.z);
}

/// Smallest side of what two boxes have in common; 0 when they have nothing.
double thinnest(const Box& a, const Box& b) {
  return std::min({common(a.lo.x, a.hi.x, b.lo.x, b.hi.x), common(a.lo.y, a.hi.y, b.lo.y, b.hi.y),
                   common(a.lo.z, a.hi.z, b.lo.z, b.hi.z)});
}

}  // namespace

TEST_CASE("panels with cut-outs clash where the wood is, by exact sums", "[clearance][truth]") {
  // A panel of 600 x 400 x 18 mm with up to three openings, one of which breaks its edge, on a grid
  // of 1 mm that leaves wood between them. What a box has in common with it is what it has in
  // common with the whole panel less what it has in common with the openings.
  Dice dice(20261130);
  int clashes = 0;
  int through = 0;
  for (int i = 0; i < 1500; ++i) {
    CAPTURE(i);
    const Box whole{{0, 0, 0}, {600, 400, 18}};
    std::vector<Box> openings;
    for (int k = dice.whole(0, 3) - 1; k >= 0; --k) {
      const double x = 10.0 + 200 * k + dice.whole(0, 40);
      const double y = k == 1 ? 0.0 : 10.0 + dice.whole(0, 150);
      openings.push_back({{x, y, 0}, {x + dice.whole(30, 140), y + dice.whole(30, 230), 18}});
    }
    Shape panel = box_shape({}, whole.hi);
    for (const Box& each : openings) {
      panel.prisms[0].prism.cuts.push_back(
          {rectangle({each.lo.x, each.lo.y}, {each.hi.x, each.hi.y}), -1, 19});
    }
    Box box;
    if (!openings.empty() && i % 2 == 0) {
      // Through an opening: with play, touching its edge, or 0.009 or 0.011 mm into the wood.
      const Box& hole = openings.front();
      const double play[] = {1.0, 0.0, -0.009, -0.011};
      const double left = play[dice.whole(0, 3)];
      box = {{hole.lo.x + left, hole.lo.y + 2, -20}, {hole.hi.x - 2, hole.hi.y - 2, 40}};
    } else {
      const Vec3 lo{static_cast<double>(dice.whole(-50, 620)),
                    static_cast<double>(dice.whole(-50, 420)),
                    static_cast<double>(dice.whole(-40, 20))};
      box = {lo, lo + Vec3{static_cast<double>(dice.whole(5, 120)),
                           static_cast<double>(dice.whole(5, 120)),
                           static_cast<double>(dice.whole(5, 60))}};
    }
    double volume = common(whole, box);
    for (const Box& each : openings) volume -= common(each, box);
    const ClearanceResult result = check_clearance(scenes::layout_of(
        {scenes::part("a/panel", panel), scenes::box_part("b/box", box.lo, box.hi)}));
    const bool found = !result.contacts.empty() && result.contacts[0].verdict == Verdict::clash;
    CAPTURE(volume, box.lo.x, box.lo.y, box.lo.z);
    // The strip of 0.009 mm beside an opening touches, all others are whole mm or deeper than 0.01.
    const bool strip = !openings.empty() && i % 2 == 0 &&
                       std::abs(openings.front().lo.x - box.lo.x - 0.009) < 1e-6;
    const bool clash = volume > 1e-6 && !strip;
    CHECK(found == clash);
    if (found) {
      CHECK(result.contacts[0].volume == Approx(volume).epsilon(1e-6).margin(1e-3));
      ++clashes;
    } else if (thinnest(whole, box) > 0.0) {
      ++through;
    }
  }
  WARN("panels with cut-outs: " << clashes << " clash, " << through << " stand in openings");
  CHECK(clashes > 300);
  CHECK(through > 300);
}

namespace {

/// Half width of a van at heights 0, 900 and 1900, at its three stations.
constexpr double kHalf[3][3] = {{850, 900, 700}, {900, 930, 760}, {780, 800, 690}};

std::shared_ptr<const Vehicle> tapered_van() {
  Vehicle van = *scenes::plain_van();
  for (std::size_t i = 0; i < 3; ++i) {
    van.stations[i].left = {{0.0, kHalf[i][0]}, {900.0, kHalf[i][1]}, {1900.0, kHalf[i][2]}};
    van.stations[i].right = van.stations[i].left;
  }
  return std::make_shared<const Vehicle>(van);
}

/// The wall's y at a place. The wall is told by its stations and stretched between them in
/// triangles: with equal heights at both stations each field is cut from its upper rear to its
/// lower front corner.
double wall_at(double x, double z) {
  const std::size_t rear = x < 2000 ? 0 : 1;
  const std::size_t low = z < 900 ? 0 : 1;
  const double u = x / 2000 - static_cast<double>(rear);
  const double v = low == 0 ? z / 900 : (z - 900) / 1000;
  const double r0 = kHalf[rear][low], r1 = kHalf[rear][low + 1];
  const double f0 = kHalf[rear + 1][low], f1 = kHalf[rear + 1][low + 1];
  return u + v <= 1 ? r0 + (f0 - r0) * u + (r1 - r0) * v
                    : f1 + (r1 - f1) * (1 - u) + (f0 - f1) * (1 - v);
}

}  // namespace

TEST_CASE("parts beside a tapered wall are judged as the wall point by point",
          "[clearance][truth]") {
  Dice dice(20261201);
  int in_wall = 0;
  int free = 0;
  int false_passes = 0;
  int false_alarms = 0;
  const auto van = tapered_van();
  for (int i = 0; i < 400; ++i) {
    const Vec3 size{dice.real(20, 300), dice.real(20, 100), dice.real(20, 300)};
    const Vec3 lo{dice.real(50, 3600), 0, dice.real(50, 1500)};
    // 200 steps either way: within 1.5 mm of the place where the box reaches furthest, and the wall
    // leans by a tenth at most, so that 0.3 mm are certain.
    double least = 1e9;
    for (int k = 0; k <= 200; ++k) {
      for (int m = 0; m <= 200; ++m)
        least = std::min(least, wall_at(lo.x + size.x * k / 200, lo.z + size.z * m / 200));
    }
    const double into = dice.whole(0, 1) == 0 ? dice.real(0.3, 3) : -dice.real(0.3, 3);
    const double side = dice.whole(0, 1) == 0 ? 1.0 : -1.0;
    const double face = (least + into) * side;
    const double back = face - size.y * side;
    Layout layout =
        scenes::layout_of({scenes::box_part("a/box", {lo.x, std::min(face, back), lo.z},
                                            {lo.x + size.x, std::max(face, back), lo.z + size.z})});
    layout.vehicle = van;
    const ClearanceResult result = check_clearance(layout);
    const bool found = std::ranges::any_of(
        result.findings, [](const Finding& finding) { return finding.code == "clearance.clash"; });
    CAPTURE(i, into, lo.x, lo.z, size.x, size.z);
    (into > 0 ? in_wall : free) += 1;
    if (into > 0 && !found) ++false_passes;
    if (into < 0 && found) ++false_alarms;
  }
  WARN("beside a tapered wall: " << in_wall << " in it, " << free << " free, " << false_passes
                                 << " false passes, " << false_alarms << " false alarms");
  CHECK(false_passes == 0);
  CHECK(false_alarms == 0);
}

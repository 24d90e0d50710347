// Least distances on a way: against sampling, where the next sample lies no further on than the
// distance allows, and by hand arithmetic.
#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "clearance/nearest.hpp"
#include "clearance/separation.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <limits>
#include <numbers>

using namespace ribbay;
using scenes::box_part;
using scenes::Dice;

namespace {

constexpr double kPi = std::numbers::pi;

double distance_of(const ConvexPiece& a, const ConvexPiece& b) {
  const Separation known = separation(a, b);
  if (known.distance <= 0.0) return 0.0;
  return closest_points(a, b, known, std::numeric_limits<double>::infinity())->distance;
}

/// The least of samples so close that less than `missed` can lie between them. `reach`: mm that a
/// point moves at most, per unit of travel.
double sampled(const std::function<double(double)>& distance, double travel, double reach,
               double missed) {
  double least = std::numeric_limits<double>::infinity();
  for (double t = 0.0;;) {
    const double now = distance(t);
    least = std::min(least, now);
    if (t >= travel || least == 0.0) return least;
    t = std::min(travel, t + std::max(2 * missed, now - least) / reach);
  }
}

struct Tally {
  int gaps = 0;
  int touching = 0;
  int far = 0;
};

/// `found` for a limit of `within` against the least of samples, which may be `missed` too large.
void compare(Tally& tally, const std::optional<NearestOnWay>& found, double truth, double within,
             double missed, const std::function<double(double)>& distance) {
  if (!found) {
    ++tally.far;
    CHECK(truth > within - 1e-6);
    return;
  }
  CHECK(found->distance <= within + 2e-4);
  CHECK(distance(found->travel) == Approx(found->distance).margin(1e-6));
  if (found->distance <= kContact) {
    ++tally.touching;
    CHECK(truth <= kContact + missed);
    return;
  }
  ++tally.gaps;
  CHECK(length(found->on_a - found->on_b) == Approx(found->distance).margin(1e-6));
  CHECK(found->distance < truth + kOnWay + 1e-6);
  CHECK(found->distance > truth - missed - 1e-6);
}

/// A post beside a door that is hinged 10 mm from its edge, and 20 mm thick: the corner behind the
/// hinge turns at sqrt(10^2 + 20^2) = 22.36 mm about it, past the post at 23.36 mm.
Layout door_past_post(double tight) {
  Layout layout = scenes::layout_of({box_part("door/leaf", {-10, 0, 0}, {400, 20, 700}),
                                     box_part("post/post", {-60, -10, 0}, {-23.36, 5, 700})});
  Motion motion;
  motion.id = "door/door";
  motion.kind = MotionKind::rotation;
  motion.axis = {0, 0, 1};
  motion.parts = {"door/leaf"};
  motion.travel = motion.required = kPi / 2;
  layout.motions = {motion};
  layout.tight = tight;
  return layout;
}

double number(const Finding& finding, const char* name) {
  return std::get<double>(finding.argument(name)->value);
}

}  // namespace

TEST_CASE("least distances on 800 straight ways agree with samples", "[way][truth]") {
  Dice dice(20261130);
  Tally tally;
  for (int i = 0; i < 800; ++i) {
    CAPTURE(i);
    const ConvexPiece a = scenes::random_piece(dice);
    const ConvexPiece b = moved(scenes::random_piece(dice), dice.point(40));
    const Vec3 way = i % 4 == 0 ? Vec3{1, 0, 0} : dice.direction();
    const double within = i % 3 == 0 ? 100.0 : 6.0;
    const auto distance = [&](double t) { return distance_of(moved(a, way * t), b); };
    compare(tally, nearest_on_slide(a, b, way, 60, within), sampled(distance, 60, 1.0, 0.01),
            within, 0.01, distance);
  }
  WARN("straight ways: " << tally.gaps << " gaps, " << tally.touching << " touch, " << tally.far
                         << " further apart");
  CHECK(tally.gaps > 100);
  CHECK(tally.touching > 100);
  CHECK(tally.far > 100);
}

TEST_CASE("least distances on 800 turns about any axis agree with samples", "[way][truth]") {
  Dice dice(20261131);
  Tally tally;
  for (int i = 0; i < 800; ++i) {
    CAPTURE(i);
    const ConvexPiece a = moved(scenes::random_piece(dice), dice.point(40));
    const ConvexPiece b = moved(scenes::random_piece(dice), dice.point(40));
    const Turn turn{dice.point(10), i % 4 == 0 ? Vec3{0, 0, 1} : dice.direction()};
    const double most = dice.real(0.5, 2 * kPi);
    const double within = i % 3 == 0 ? 100.0 : 6.0;
    double reach = 1.0;
    for (const Vec3& p : a.vertices)
      reach = std::max(reach, length(cross(turn.axis, p - turn.origin)));
    const auto distance = [&](double t) { return distance_of(turned(a, turn, t), b); };
    compare(tally, nearest_on_turn(a, b, turn, most, within), sampled(distance, most, reach, 0.01),
            within, 0.01, distance);
  }
  WARN("turns: " << tally.gaps << " gaps, " << tally.touching << " touch, " << tally.far
                 << " further apart");
  CHECK(tally.gaps > 100);
  CHECK(tally.touching > 100);
  CHECK(tally.far > 100);
}

TEST_CASE("a distance that stays the same all the way is found", "[way]") {
  const ConvexPiece leaf = scenes::block({0, 0, 3}, {450, 18, 700});
  const ConvexPiece sill = scenes::block({-500, -500, -20}, {500, 500, 0});
  const auto turn = nearest_on_turn(leaf, sill, {{}, {0, 0, 1}}, 2.0, 10.0);
  REQUIRE(turn);
  CHECK(turn->distance == Approx(3.0).margin(1e-9));
  const auto slide = nearest_on_slide(leaf, sill, {0, 1, 0}, 400.0, 10.0);
  REQUIRE(slide);
  CHECK(slide->distance == Approx(3.0).margin(1e-9));
  CHECK_FALSE(nearest_on_turn(leaf, sill, {{}, {0, 0, 1}}, 2.0, 2.9));
  CHECK_FALSE(nearest_on_slide(leaf, sill, {0, 1, 0}, 400.0, 2.9));
}

TEST_CASE("the corner behind a hinge is told where it passes a post too near", "[way]") {
  const ClearanceResult result = check_clearance(door_past_post(2.0));
  CHECK_FALSE(result.motions[0].blocked);
  REQUIRE(result.findings.size() == 1);
  const Finding& tight = result.findings[0];
  CHECK(tight.code == "clearance.tight_way");
  CHECK(tight.subjects == std::vector<std::string>{"door/leaf", "post/post"});
  CHECK(number(tight, "measured") == Approx(23.36 - std::sqrt(500.0)).margin(kOnWay));
  // The corner stands at atan2(20, -10) when the door is shut.
  CHECK(number(tight, "open") == Approx(180.0 - 180.0 / kPi * std::atan2(20, -10)).margin(2.0));
  CHECK(check_clearance(door_past_post(0.99)).findings.empty());
}

TEST_CASE("a gap that is asked for holds on the way too", "[way]") {
  Layout layout = door_past_post(0.0);
  layout.gaps = {{"door/gap", "door", "post", 13.0, {}}};  // shut there are 13.36 mm
  const ClearanceResult result = check_clearance(layout);
  REQUIRE(result.findings.size() == 1);
  CHECK(result.findings[0].code == "clearance.gap_way");
  CHECK(number(result.findings[0], "missing") ==
        Approx(13.0 - (23.36 - std::sqrt(500.0))).margin(kOnWay));
  layout.motions[0].required = 0.1;  // so far it must open, and there it is not yet near
  CHECK(check_clearance(layout).findings.size() == 1);
  layout.gaps[0].required = 5.0;
  CHECK(check_clearance(layout).findings.empty());
}

TEST_CASE("a drawer that passes something too near is told, what it runs on is not", "[way]") {
  Layout layout = scenes::layout_of({box_part("a/drawer", {0, 0, 0}, {300, 400, 100}),
                                     box_part("b/rail", {50, -300, -10}, {250, 400, 0}),
                                     box_part("c/post", {301.2, -300, 0}, {330, -200, 400})});
  Motion motion;
  motion.id = "a/out";
  motion.axis = {0, -1, 0};
  motion.parts = {"a/drawer"};
  motion.travel = motion.required = 350;
  layout.motions = {motion};
  layout.tight = 2.0;
  const Findings findings = check_clearance(layout).findings;
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "clearance.tight_way");
  CHECK(findings[0].subjects.back() == "c/post");
  CHECK(number(findings[0], "measured") == Approx(1.2).margin(1e-9));
  layout.motions[0].required = 150;  // it stops before the post
  CHECK(check_clearance(layout).findings.empty());
}

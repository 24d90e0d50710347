// Sweeps against sampling: a piece is set at one place of its way after another, and where it first
// lies deeper than kContact in the other is found by halving. Where the pieces are apart the next
// sample lies no further on than that gap allows, so that between samples nothing is missed but
// contacts shorter than the finest step.
#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <numbers>
#include <optional>

using namespace ribbay;
using scenes::Dice;

namespace {

/// How deep the moved piece lies in the other at some travel; negative: the gap is at least that.
using Depth = std::function<double(double)>;

/// The first travel at which the depth exceeds kContact. `reach`: mm that a point of the piece
/// moves at most, per unit of travel.
std::optional<double> sampled(const Depth& depth, double travel, double reach, double finest) {
  double clear = 0.0;
  for (double t = 0.0;;) {
    const double now = depth(t);
    if (now > kContact) {
      for (double apart = t - clear; apart > 1e-9 && t > 0.0; apart = t - clear) {
        const double middle = (clear + t) / 2;
        (depth(middle) > kContact ? t : clear) = middle;
      }
      return t;
    }
    clear = t;
    if (t >= travel) return std::nullopt;
    t = std::min(travel, t + std::max(finest, -now / reach));
  }
}

struct Tally {
  int hits = 0;
  int passes = 0;
  int grazing = 0;  ///< found by the sweep, shorter than the finest step of the samples
  int missed = 0;
};

/// `found`: the sweep's answer; `same`: how near the two must be, in units of travel.
void compare(Tally& tally, const std::optional<double>& found, const std::optional<double>& truth,
             const Depth& depth, double same) {
  if (!found && !truth) {
    ++tally.passes;
    return;
  }
  if (truth && (!found || *found > *truth + same)) {
    ++tally.missed;
    CAPTURE(*truth, found.value_or(-1.0));
    FAIL_CHECK("the sweep missed a contact");
    return;
  }
  ++tally.hits;
  // What it finds is a contact, and the first.
  CHECK(depth(*found) > kContact - 1e-5);
  if (truth && *found >= *truth - same) return;
  ++tally.grazing;
}

}  // namespace

TEST_CASE("2500 straight ways agree with samples", "[sweep][truth]") {
  Dice dice(20261127);
  Tally tally;
  for (int i = 0; i < 2500; ++i) {
    CAPTURE(i);
    const ConvexPiece a = scenes::random_piece(dice);
    const ConvexPiece b = moved(scenes::random_piece(dice), dice.point(25));
    const Vec3 way = i % 4 == 0 ? Vec3{1, 0, 0} : dice.direction();
    const Depth depth = [&](double t) { return -separation(moved(a, way * t), b).distance; };
    const auto stretch = contact_stretch(a, b, way, 60);
    compare(tally, stretch ? std::optional(stretch->from) : std::nullopt,
            sampled(depth, 60, 1.0, 0.002), depth, 0.01);
  }
  WARN("straight ways: " << tally.hits << " hit, of which " << tally.grazing << " between samples, "
                         << tally.passes << " pass, " << tally.missed << " missed");
  CHECK(tally.missed == 0);
  CHECK(tally.hits > 500);
  CHECK(tally.passes > 500);
}

TEST_CASE("2500 turns about any axis agree with samples", "[sweep][truth]") {
  Dice dice(20261128);
  Tally tally;
  for (int i = 0; i < 2500; ++i) {
    CAPTURE(i);
    const ConvexPiece a = moved(scenes::random_piece(dice), dice.point(30));
    const ConvexPiece b = moved(scenes::random_piece(dice), dice.point(30));
    const Turn turn{dice.point(10), i % 4 == 0 ? Vec3{0, 0, 1} : dice.direction()};
    const double most = dice.real(0.5, 2 * std::numbers::pi);
    double reach = 1.0;
    for (const Vec3& p : a.vertices)
      reach = std::max(reach, length(cross(turn.axis, p - turn.origin)));
    const Depth depth = [&](double t) { return -separation(turned(a, turn, t), b).distance; };
    compare(tally, contact_angle(a, b, turn, most), sampled(depth, most, reach, 0.0001), depth,
            0.01 * std::numbers::pi / 180);
  }
  WARN("turns: " << tally.hits << " hit, of which " << tally.grazing << " between samples, "
                 << tally.passes << " pass, " << tally.missed << " missed");
  CHECK(tally.missed == 0);
  CHECK(tally.hits > 500);
  CHECK(tally.passes > 500);
}

TEST_CASE("contacts far shorter than a sample are found", "[sweep][truth]") {
  // Thin plates pass through each other: deeper than kContact over the sum of their thicknesses
  // less twice kContact, a few thousandths of a millimetre.
  Dice dice(20261129);
  int found = 0;
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    const double thick = kContact * 2 + dice.real(0.0005, 0.004);
    const double y = dice.real(100, 300);
    const ConvexPiece blade = scenes::block({0, 0, 0}, {30, thick / 2, 20});
    const ConvexPiece sheet = scenes::block({-20, y, -5}, {50, y + thick / 2, 30});
    const auto stretch = contact_stretch(blade, sheet, {0, 1, 0}, 500);
    REQUIRE(stretch);
    CHECK(stretch->to - stretch->from == Approx(thick - 2 * kContact).margin(1e-9));
    CHECK(stretch->from == Approx(y - thick / 2 + kContact).margin(1e-9));
    ++found;
  }
  CHECK(found == 500);
}

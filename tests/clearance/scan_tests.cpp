#include "clearance/clearance.hpp"
#include "clearance/scan_contact.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "scanned_van.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::scenes;

namespace {

Layout cupboard_in(std::shared_ptr<const Vehicle> van) {
  Layout layout = layout_of({box_part("galley/back", {1200, -900, 0}, {1800, -882, 880})});
  layout.vehicle = std::move(van);
  return layout;
}

double number(const Finding& finding, const char* name) {
  return std::get<double>(finding.argument(name)->value);
}

}  // namespace

TEST_CASE("what the scan shows inside a part is found although the stations do not",
          "[clearance][scan]") {
  const ClearanceResult result = check_clearance(cupboard_in(scanned_van(8.0, 0.0, 3.0)));
  REQUIRE(result.findings.size() == 1);
  const Finding& finding = result.findings.front();
  CHECK(finding.code == "clearance.scan");
  CHECK(finding.severity == Severity::error);
  CHECK(finding.subjects == std::vector<std::string>{"galley/back"});
  CHECK(number(finding, "measured") == Approx(8.0).margin(0.011));
  CHECK(number(finding, "required") == 3.0);
  REQUIRE(finding.at);
  CHECK(finding.at->x == Approx(1500).margin(5));
  CHECK(finding.at->z == Approx(500).margin(5));
}

TEST_CASE("a part against a scanned wall is fine, and noise is a note", "[clearance][scan]") {
  CHECK(check_clearance(cupboard_in(scanned_van(0.0, 0.0, 3.0))).findings.empty());
  const ClearanceResult noisy = check_clearance(cupboard_in(scanned_van(0.0, 1.5, 3.0)));
  REQUIRE(noisy.findings.size() == 1);
  CHECK(noisy.findings.front().code == "clearance.scan_touch");
  CHECK(noisy.findings.front().severity == Severity::note);
  CHECK(number(noisy.findings.front(), "measured") <= 1.51);
  // The same dent is no clash for a scan that is certain to 10 mm only.
  const ClearanceResult vague = check_clearance(cupboard_in(scanned_van(8.0, 0.0, 10.0)));
  REQUIRE(vague.findings.size() == 1);
  CHECK(vague.findings.front().code == "clearance.scan_touch");
}

TEST_CASE("the number of threads changes nothing about the scan", "[clearance][scan]") {
  const Layout layout = cupboard_in(scanned_van(8.0, 1.0, 3.0));
  CHECK(check_clearance(layout, 1).findings == check_clearance(layout, 4).findings);
}

TEST_CASE("triangles found by the tree are those found by looking at all", "[clearance][scan]") {
  const auto van = scanned_van(8.0, 2.0, 3.0);
  const ScanMesh& mesh = van->scan->mesh;
  const ScanTree tree(mesh);
  Dice dice(5);
  std::size_t found = 0;
  for (int round = 0; round < 100; ++round) {
    Box box;
    const Vec3 at{dice.real(-100, 4100), dice.real(-950, 950), dice.real(-50, 1950)};
    box.add(at);
    box.add(at + Vec3{dice.real(0, 400), dice.real(0, 400), dice.real(0, 400)});
    std::vector<std::uint32_t> all;
    for (std::uint32_t i = 0; i < mesh.triangles.size(); ++i) {
      Box bounds;
      for (const Vec3& p : mesh.corners(mesh.triangles[i])) bounds.add(p);
      if (near(bounds, box, 0.0)) all.push_back(i);
    }
    CHECK((tree.near(box) == all));
    found += all.size();
  }
  CHECK(found > 300);
}

TEST_CASE("the depth agrees with pushing a part out step by step", "[clearance][scan]") {
  // The slow way: move in steps, and at each cut every triangle down to what lies in the block by
  // the planes of its six faces. The wall alone, which faces one axis but for the sides of the
  // dent.
  const auto van = scanned_van(8.0, 1.0, 3.0);
  ScanMesh mesh = van->scan->mesh;
  std::erase_if(mesh.triangles, [&](const auto& t) {
    const Vec3 n = area_vector(mesh.corners(t));
    return std::abs(n.y) < std::abs(n.x) + std::abs(n.z);
  });
  const ScanTree tree(mesh);
  constexpr double kStep = 0.25;
  const auto holds = [&](const ConvexPiece& piece) {
    return std::ranges::any_of(mesh.triangles, [&](const auto& t) {
      const auto c = mesh.corners(t);
      std::vector<Vec3> polygon(c.begin(), c.end());
      for (const auto& face : piece.faces) {
        const auto at = [&](std::size_t k) {
          return piece.vertices[static_cast<std::size_t>(face[k])];
        };
        const Vec3 normal = normalized(cross(at(1) - at(0), at(2) - at(0)));
        const double level = dot(normal, at(0)) - 2 * kContact;
        std::vector<Vec3> kept;
        for (std::size_t k = 0; k < polygon.size(); ++k) {
          const Vec3 p = polygon[k];
          const Vec3 q = polygon[(k + 1) % polygon.size()];
          const double a = dot(normal, p) - level;
          const double b = dot(normal, q) - level;
          if (a <= 0.0) kept.push_back(p);
          if ((a < 0.0) != (b < 0.0)) kept.push_back(p + (q - p) * (a / (a - b)));
        }
        polygon = std::move(kept);
        if (polygon.size() < 3) return false;
      }
      return true;
    });
  };
  Dice dice(17);
  int inside = 0;
  for (int round = 0; round < 12; ++round) {
    const ConvexPiece piece = block(
        {0, 0, 0}, {dice.real(40, 120), dice.real(40, 120), dice.real(40, 120)},
        turned_frame(dice.direction(), dice.real(0, 3),
                     {dice.real(1350, 1550), -900 + dice.real(-60, 20), dice.real(300, 500)}));
    const auto contact = scan_contact({piece}, tree, 0.0, 200.0);
    CAPTURE(round);
    CHECK(contact.has_value() == holds(piece));
    if (!contact || contact->at_least) continue;
    ++inside;
    CAPTURE(contact->depth);
    CHECK_FALSE(holds(moved(piece, contact->way * (contact->depth + 0.05))));
    if (contact->depth > 2 * kStep) {
      CHECK(holds(moved(piece, contact->way * (contact->depth - kStep))));
    }
  }
  CHECK(inside >= 6);
}

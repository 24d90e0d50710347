#include "sample_scans.hpp"
#include "scan/align.hpp"
#include "scan/clean.hpp"
#include "scan/read_scan.hpp"
#include "scan/slice.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::tests;

// What is sought is known here: the scans are made of vans whose stations stand in a file.

namespace {

/// Where a builder would have picked the points on this scan: at true places, moved like it.
PickedPoints picked_on(const Vehicle& vehicle, const Frame& scanner, bool front) {
  const double half = vehicle.stations.front().left.front().half_width;
  PickedPoints picked{scanner.point({0, half, 0}), scanner.point({0, -half, 0}), {}, 0.0};
  if (front) picked.floor_front = scanner.point({vehicle.x_max() - 100, 0, 0});
  return picked;
}

SliceRequest request_of(const Vehicle& vehicle) {
  SliceRequest request;
  for (const Station& station : vehicle.stations) request.stations.push_back(station.x);
  for (const WallPoint& p : vehicle.stations.front().left) request.heights.push_back(p.z);
  for (const WheelArch& arch : vehicle.arches) {
    request.hidden.push_back({arch.side == VanSide::left, arch.from, arch.to, 0.0, arch.height});
  }
  for (const Rib& rib : vehicle.ribs) {
    const double reach = rib.width / 2 + 10;
    request.hidden.push_back(
        {rib.side == VanSide::left, rib.x - reach, rib.x + reach, rib.from, rib.to});
  }
  return request;
}

/// Distance of a point from the polygon of the section, in its plane: what a builder would find
/// with a feeler gauge.
double off_section(const std::vector<WallPoint>& wall, const ScannedPoint& point) {
  double best = std::numeric_limits<double>::infinity();
  std::vector<Vec2> line;
  for (const WallPoint& p : wall) line.push_back({p.half_width, p.z});
  line.push_back({0.0, wall.back().z});  // the roof between the tops
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Vec2 d = line[i + 1] - line[i];
    const Vec2 p{point.half_width, point.z};
    const double share = std::clamp(dot(p - line[i], d) / dot(d, d), 0.0, 1.0);
    best = std::min(best, length(p - line[i] - d * share));
  }
  return best;
}

struct Worst {
  double seen = 0.0;         ///< mm off the true section
  double beyond_band = 0.0;  ///< mm of points not seen beyond their own uncertainty
  std::size_t points = 0;
  std::size_t unseen = 0;
};

Worst compare(const Vehicle& vehicle, const std::vector<ScannedSection>& sections) {
  Worst worst;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const Station& station = vehicle.stations[i];
    for (const auto& [wall, points] : {std::pair{&station.left, &sections[i].left},
                                       std::pair{&station.right, &sections[i].right}}) {
      for (const ScannedPoint& point : *points) {
        const double off = off_section(*wall, point);
        ++worst.points;
        if (point.seen) {
          worst.seen = std::max(worst.seen, off);
        } else {
          ++worst.unseen;
          worst.beyond_band = std::max(worst.beyond_band, off - point.uncertainty);
        }
      }
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("a scan gives back the stations it was made of, in every format",
          "[scan][slicing][oracle]") {
  const Vehicle van = long_mid();
  REQUIRE(van.stations.size() == 5);
  Chance chance(7);
  const Frame scanner = chance.motion();
  const ScanMesh mesh = scan_of(van, 25, {}, scanner, chance);
  std::vector<ScannedSection> first;
  for (const WrittenScan& written : all_formats(mesh, 0.001)) {
    CAPTURE(written.name);
    const auto read = read_scan(written.bytes, written.name, 1000.0);
    REQUIRE(read);
    CleanedScan cleaned = clean(*read);
    CHECK(cleaned.strays == 8);
    const auto lies = align(cleaned.mesh, picked_on(van, scanner, true));
    REQUIRE(lies);
    move_to_van(cleaned.mesh, lies->frame);
    const auto sections = slice(cleaned.mesh, request_of(van));
    REQUIRE(sections.size() == 5);
    const Worst worst = compare(van, sections);
    CAPTURE(worst.seen, worst.beyond_band, worst.points, worst.unseen);
    CHECK(worst.points >= 90);
    // Noise of 1 mm, and only a dozen points of this coarse mesh in a window, fewer at the ends:
    // three standard deviations.
    CHECK(worst.seen < 3.0);
    CHECK(worst.beyond_band <= 0.0);
    CHECK(worst.unseen >= 4);  // floor and first height behind both arches
    if (first.empty()) first = sections;
    CHECK(std::abs(sections[2].left[3].half_width - first[2].left[3].half_width) < 1e-2);
  }
}

TEST_CASE("a scan without noise gives its stations to a millimetre", "[scan][slicing]") {
  const Vehicle van = long_mid();
  ScanMesh mesh = clean_scan_of(van, 10);
  const auto sections = slice(mesh, request_of(van));
  // At the ends the window lies on one side of the station: 60 mm of a wall that widens by 1.3 in
  // 100.
  const std::size_t heights = van.stations.front().left.size();
  for (std::size_t i = 0; i < sections.size(); ++i) {
    CAPTURE(i);
    for (std::size_t k = 0; k < heights - 3; ++k) {
      if (!sections[i].left[k].seen) continue;
      CAPTURE(k);
      CHECK(sections[i].left[k].half_width ==
            Approx(van.stations[i].left[k].half_width).margin(i == 0 || i == 4 ? 1.0 : 0.5));
    }
  }
}

TEST_CASE("the wall is found behind ribs and not on them", "[scan][slicing]") {
  const Vehicle van = long_mid();
  Chance chance(3);
  const ScanMesh mesh = scan_of(van, 15, {.noise = 1, .holes = 0, .strays = 0}, {}, chance);
  SliceRequest request;
  request.heights = {0, 460, 820, 1180};
  // Over the middle of every second rib on the left, and at their edges.
  for (const Rib& rib : van.ribs) {
    if (rib.side != VanSide::left) continue;
    request.stations.push_back(rib.x);
    request.stations.push_back(rib.x + rib.width / 2);
  }
  std::ranges::sort(request.stations);
  // The arches are known, the ribs are not.
  for (const WheelArch& arch : van.arches) {
    request.hidden.push_back({arch.side == VanSide::left, arch.from, arch.to, 0.0, arch.height});
  }
  const auto sections = slice(mesh, request);
  for (const ScannedSection& section : sections) {
    for (std::size_t k = 1; k < request.heights.size(); ++k) {
      CAPTURE(section.x, request.heights[k]);
      const double skin = *wall_y(van, VanSide::left, section.x, request.heights[k]);
      CHECK(section.left[k].half_width == Approx(skin).margin(3.0));
    }
  }
}

TEST_CASE("where nothing was scanned the neighbours speak, and say so", "[scan][slicing]") {
  const Vehicle van = long_mid();
  ScanMesh mesh = clean_scan_of(van, 20);
  // The left wall is missing from 1500 to 2000 and from 300 to 1300 high.
  std::erase_if(mesh.triangles, [&](const auto& t) {
    const Vec3 p = mesh.points[t[0]];
    return p.y > 400 && p.x > 1500 && p.x < 2000 && p.z > 300 && p.z < 1300;
  });
  const auto sections = slice(mesh, request_of(van));
  const auto& left = sections[2].left;  // at 1740
  for (const std::size_t k : {2U, 3U, 4U}) {
    CAPTURE(k);
    CHECK_FALSE(left[k].seen);
    CHECK(left[k].uncertainty > 10.0);
    CHECK(std::abs(left[k].half_width - van.stations[2].left[k].half_width) < left[k].uncertainty);
  }
  CHECK(left[1].seen);
  CHECK(left[5].seen);
  CHECK(sections[2].right[3].seen);
}

TEST_CASE("a section without anything is blind", "[scan][slicing]") {
  ScanMesh mesh;
  made::add_grid(mesh, 5, 5, false, [](std::size_t r, std::size_t c) {
    return Vec3{500.0 * static_cast<double>(c), 200.0 * static_cast<double>(r) - 400, 0};
  });
  const auto sections = slice(mesh, {{1000.0}, {0.0, 500.0, 1000.0}, {}});
  REQUIRE(sections.size() == 1);
  CHECK(sections[0].blind);
}

TEST_CASE("the van is found however the scanner stood", "[scan][aligning]") {
  const Vehicle van = long_mid();
  for (const unsigned seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
    for (const bool front : {true, false}) {
      CAPTURE(seed, front);
      Chance chance(seed);
      const Frame scanner = chance.motion();
      const ScanMesh mesh = scan_of(van, 40, {}, scanner, chance);
      const auto lies = align(clean(mesh).mesh, picked_on(van, scanner, front));
      REQUIRE(lies);
      // The picks are exact, the floor is fitted to thousands of points with 1 mm of noise: its
      // mean is known to 1 / sqrt(3000) mm and the lever to the roof is short.
      CHECK(length(lies->frame.origin - scanner.origin) < 0.2);
      CHECK(length(lies->frame.z - scanner.z) * 1700 < 0.2);
      CHECK(length(lies->frame.x - scanner.x) * 3500 < 0.4);
      CHECK(lies->floor_noise == Approx(1.0 / std::sqrt(3.0)).margin(0.1));  // middles of 3 points
      CHECK(lies->picks_off < 0.2);
    }
  }
}

TEST_CASE("bad picks are seen", "[scan][aligning]") {
  const Vehicle van = long_mid();
  Chance chance(11);
  const Frame scanner = chance.motion();
  const ScanMesh mesh = clean(scan_of(van, 40, {}, scanner, chance)).mesh;
  const PickedPoints good = picked_on(van, scanner, true);
  const auto code = [&](const PickedPoints& picked) {
    const auto lies = align(mesh, picked);
    return lies ? std::string("none") : lies.error().front().code;
  };
  CHECK(code(good) == "none");
  PickedPoints picked = good;
  picked.sill_right = picked.sill_left;
  CHECK(code(picked) == "scan.picked_points");
  picked = good;
  picked.floor_front = picked.sill_left + (picked.sill_right - picked.sill_left) * 0.3;
  CHECK(code(picked) == "scan.picked_points");
  picked = good;
  std::swap(picked.sill_left, picked.sill_right);
  CHECK(code(picked) == "scan.sides_swapped");
  for (Vec3* p : {&(picked = good).sill_left, &picked.sill_right, &*picked.floor_front}) {
    *p = *p - scanner.z * 500.0;
  }
  CHECK(code(picked) == "scan.no_floor");

  SECTION("residuals tell by how much a pick is off") {
    picked = good;
    picked.sill_left = picked.sill_left + scanner.z * 8.0 + scanner.x * 12.0;
    const auto lies = align(mesh, picked);
    REQUIRE(lies);
    CHECK(lies->picks_off == Approx(8.0).margin(0.3));
    CHECK(lies->sill_skew == Approx(12.0).margin(0.3));
  }
  SECTION("points picked in front of the sill say so") {
    picked = good;
    picked.sill_left = picked.sill_left + scanner.x * 150.0;
    picked.sill_right = picked.sill_right + scanner.x * 150.0;
    picked.sill_x = 150.0;
    const auto lies = align(mesh, picked);
    REQUIRE(lies);
    CHECK(length(lies->frame.origin - scanner.origin) < 0.3);
  }
}

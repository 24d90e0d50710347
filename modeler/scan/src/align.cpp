#include "scan/align.hpp"

#include "biweight.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace ribbay {

using namespace detail;

namespace {

constexpr double kLeastFloor = 200'000.0;  // mm2: 0.2 m2
constexpr double kLeastBase = 200.0;       // mm between picked points
constexpr double kFloorGate = 50.0;        // mm: how far picked points may lie off the floor
constexpr double kLevel = 0.94;            // cosine of 20 degrees: what counts as floor

/// A triangle as the fit sees it.
struct Patch {
  Vec3 middle;
  Vec3 normal;  ///< unit
  double area = 0.0;
};

std::vector<Patch> patches_of(const ScanMesh& mesh) {
  std::vector<Patch> patches;
  patches.reserve(mesh.triangles.size());
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    const auto c = mesh.corners(t);
    const Vec3 area = area_vector(c);
    const double size = length(area);
    if (size > 0.0)
      patches.push_back({(c[0] + c[1] + c[2]) * (1.0 / 3.0), area * (1 / size), size});
  }
  return patches;
}

Vec3 middle_of(const std::vector<Patch>& patches) {
  Vec3 sum;
  double area = 0.0;
  for (const Patch& p : patches) {
    sum = sum + p.middle * p.area;
    area += p.area;
  }
  return sum * (1.0 / area);
}

Frame frame_of(Vec3 origin, Vec3 forward, Vec3 up) {
  const Vec3 x = normalized(forward - up * dot(forward, up));
  return {origin, x, cross(up, x), up};
}

/// The plane about the sill line that most of the surface agrees with, as a van frame: each
/// triangle votes with its area for the angle at which it lies, if it lies flat there.
Frame turned_to_floor(const std::vector<Patch>& patches, const PickedPoints& picked) {
  const Vec3 origin = (picked.sill_left + picked.sill_right) * 0.5;
  const Vec3 left = normalized(picked.sill_left - picked.sill_right);
  const Vec3 any = std::abs(left.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 e1 = normalized(cross(left, any));
  const Vec3 e2 = cross(left, e1);
  constexpr std::size_t kBins = 720;  // half degrees
  std::array<double, kBins> votes{};
  for (const Patch& p : patches) {
    const Vec3 out = p.middle - origin;
    const double a = dot(out, e1);
    const double b = dot(out, e2);
    const double far = std::hypot(a, b);
    if (far < 300.0) continue;  // too near the line to tell an angle
    const Vec3 up = cross(e1 * (a / far) + e2 * (b / far), left);
    if (std::abs(dot(up, p.normal)) < kLevel) continue;
    const double turn = std::atan2(b, a) / (2 * std::numbers::pi) + 1.0;
    votes[static_cast<std::size_t>(turn * kBins) % kBins] += p.area;
  }
  std::size_t best = 0;
  double most = -1.0;
  for (std::size_t i = 0; i < kBins; ++i) {
    const double here = votes[(i + kBins - 1) % kBins] + votes[i] + votes[(i + 1) % kBins];
    if (here > most) {
      most = here;
      best = i;
    }
  }
  const double angle = (static_cast<double>(best) + 0.5) * 2 * std::numbers::pi / kBins;
  const Vec3 forward = e1 * std::cos(angle) + e2 * std::sin(angle);
  return frame_of(origin, forward, cross(forward, left));
}

struct FittedFloor {
  std::array<double, 3> plane{};  ///< height, slope along x, slope along y, in the first frame
  double noise = 0.0;
  double area = 0.0;
};

FittedFloor fit_floor(const std::vector<Patch>& patches, const Frame& first) {
  std::vector<Patch> near;
  for (const Patch& p : patches) {
    const Vec3 at = first.local_point(p.middle);
    if (std::abs(at.z) > kFloorGate || std::abs(dot(p.normal, first.z)) < kLevel) continue;
    near.push_back({at, {}, p.area});
  }
  FittedFloor floor;
  double reach = kFloorGate;
  for (int round = 0; round < 12; ++round) {
    LeastSquares<3> sums;
    for (const Patch& p : near) {
      const double off =
          p.middle.z - floor.plane[0] - floor.plane[1] * p.middle.x - floor.plane[2] * p.middle.y;
      sums.add({1.0, p.middle.x, p.middle.y}, p.middle.z, p.area * biweight(off, reach));
    }
    floor.plane = sums.solve();
    std::vector<double> distances;
    double squares = 0.0;
    double weights = 0.0;
    floor.area = 0.0;
    for (const Patch& p : near) {
      const double off =
          p.middle.z - floor.plane[0] - floor.plane[1] * p.middle.x - floor.plane[2] * p.middle.y;
      if (std::abs(off) >= reach) continue;
      distances.push_back(std::abs(off));
      squares += p.area * off * off;
      weights += p.area;
    }
    floor.area = weights;
    floor.noise = weights > 0.0 ? std::sqrt(squares / weights) : 0.0;
    // Half a millimetre: a made-up floor without noise must not lose its own points.
    reach = std::clamp(kBiweightReach * kMadToSigma * quantile(distances, 0.5), 0.5, reach);
  }
  return floor;
}

bool far_enough(Vec3 a, Vec3 b) {
  return length(a - b) >= kLeastBase;
}

/// True when the three points (or two) say where the van lies.
bool usable(const PickedPoints& picked) {
  if (!far_enough(picked.sill_left, picked.sill_right)) return false;
  if (!picked.floor_front) return true;
  const Vec3 left = normalized(picked.sill_left - picked.sill_right);
  const Vec3 out = *picked.floor_front - (picked.sill_left + picked.sill_right) * 0.5;
  return length(out - left * dot(out, left)) >= kLeastBase;
}

}  // namespace

Result<Alignment> align(const ScanMesh& mesh, const PickedPoints& picked) {
  if (!usable(picked)) {
    return fail(input_error("scan.picked_points", {}).with("least", kLeastBase, Unit::mm));
  }
  const std::vector<Patch> patches = patches_of(mesh);
  const Vec3 middle = (picked.sill_left + picked.sill_right) * 0.5;
  const Vec3 across = picked.sill_left - picked.sill_right;
  const Frame first = picked.floor_front
                          ? frame_of(middle, *picked.floor_front - middle,
                                     normalized(cross(*picked.floor_front - middle, across)))
                          : turned_to_floor(patches, picked);
  if (patches.empty() || first.local_point(middle_of(patches)).z <= 0.0) {
    return fail(input_error("scan.sides_swapped", {}));
  }
  const FittedFloor floor = fit_floor(patches, first);
  if (floor.area < kLeastFloor) {
    return fail(input_error("scan.no_floor", {})
                    .with("area", floor.area, Unit::mm2)
                    .with("least", kLeastFloor, Unit::mm2)
                    .with("gate", kFloorGate, Unit::mm));
  }
  Alignment result;
  const Vec3 up = first.direction(normalized({-floor.plane[1], -floor.plane[2], 1.0}));
  const Vec3 on_floor = first.point({0.0, 0.0, floor.plane[0]});
  const auto height = [&](Vec3 p) { return dot(p - on_floor, up); };
  const Vec3 forward = picked.floor_front ? *picked.floor_front - middle : cross(across, up);
  result.frame = frame_of(middle - up * height(middle), forward, up);
  result.frame.origin = result.frame.origin - result.frame.x * picked.sill_x;
  result.floor_noise = floor.noise;
  result.floor_area = floor.area;
  result.picks_off =
      std::max(std::abs(height(picked.sill_left)), std::abs(height(picked.sill_right)));
  if (picked.floor_front) {
    result.picks_off = std::max(result.picks_off, std::abs(height(*picked.floor_front)));
    result.sill_skew = dot(across, result.frame.x);
  }
  return result;
}

void move_to_van(ScanMesh& mesh, const Frame& van_in_scan) {
  for (Vec3& p : mesh.points) p = van_in_scan.local_point(p);
}

}  // namespace ribbay

#include "tools.hpp"

#include "layout/removals.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kPi = std::numbers::pi;

/// Arms of a hexagon key, mm: JIS B 4648:2008, long arm of the standard and of the long series, and
/// short arm.
struct KeyArms {
  double size, arm, long_arm, short_arm;
};
constexpr std::array<KeyArms, 7> kKeys{{{2.5, 58.5, 87.5, 20.5},
                                        {3, 66, 93, 23},
                                        {4, 74, 104, 29},
                                        {5, 85, 120, 33},
                                        {6, 96, 141, 38},
                                        {8, 108, 158, 44},
                                        {10, 122, 180, 50}}};

// Common practice, no source.
constexpr double kDriverLength = 150.0;  // screwdriver, or short bit in a cordless driver
constexpr double kDriverRadius = 6.0;
constexpr double kAngleHeight = 60.0;  // angle driver with a short bit
constexpr double kAngleArm = 150.0;
constexpr double kAngleThick = 40.0;
constexpr double kSpannerArm = 10.0;        // length of a spanner, in sizes of its jaw
constexpr double kLean = 25.0 * kPi / 180;  // of a ball end in its socket
constexpr int kTurns = 12;                  // places round the axis where an arm may begin
constexpr double kSixth = kPi / 6.0;        // half of the sixth of a turn that an arm needs

constexpr double kHandRadius = 20.0;   // of a hand laid flat, with the tool in it
constexpr double kHandBeyond = 100.0;  // that it needs outside
constexpr double kArmReach = 1000.0;   // of somebody who leans in
constexpr double kBehind = -0.8;       // no way leads from straight behind the head: its cosine
constexpr double kToolStretch = 90.0;  // beside the head, where the tool is

/// How far along `way` a point goes until it has left the box, mm; 0 when it is outside.
double leaves(const Box& box, Vec3 point, Vec3 way) {
  double least = std::numeric_limits<double>::infinity();
  for (int axis = 0; axis < 3; ++axis) {
    if (point[axis] < box.lo[axis] || point[axis] > box.hi[axis]) return 0.0;
    if (std::abs(way[axis]) < 1e-9) continue;
    const double room = way[axis] > 0.0 ? box.hi[axis] - point[axis] : point[axis] - box.lo[axis];
    least = std::min(least, room / std::abs(way[axis]));
  }
  return least;
}

/// A regular polygon that holds the circle.
std::vector<Vec2> round(double radius) {
  std::vector<Vec2> corners;
  const double over = radius / std::cos(kPi / 8);
  for (int i = 0; i < 8; ++i)
    corners.push_back({over * std::cos(i * kPi / 4), over * std::sin(i * kPi / 4)});
  return corners;
}

/// What an arm sweeps in a sixth of a turn about `middle`.
std::vector<Vec2> sweep(double arm, double middle) {
  std::vector<Vec2> corners{{0, 0}};
  for (const double share : {-1.0, -1.0 / 3, 1.0 / 3, 1.0}) {
    const double angle = middle + share * kSixth;
    corners.push_back({arm * std::cos(angle), arm * std::sin(angle)});
  }
  return corners;
}

/// Lengths along the axis of the bolt, from the end of its head, and across it, mm.
struct Sizes {
  double straight = kDriverLength;
  double radius = kDriverRadius;
  double arm = kAngleArm;
  double lowest = kAngleHeight - kAngleThick;  ///< the arm turns between these
  double highest = kAngleHeight;
  bool socket = false;
};

Sizes sizes_of(const Bolt& bolt) {
  Sizes sizes;
  if (bolt.kind != BoltKind::machine || bolt.spanner <= 0.0) return sizes;
  if (!has_socket(bolt)) {
    sizes.radius = bolt.spanner;  // a socket wrench
    sizes.arm = kSpannerArm * bolt.spanner;
    sizes.lowest = -bolt.head_height / 2;
    sizes.highest = 0.0;
    return sizes;
  }
  const auto key = std::ranges::find_if(
      kKeys, [&](const KeyArms& each) { return each.size >= bolt.spanner - 1e-9; });
  const KeyArms& arms = key == kKeys.end() ? kKeys.back() : *key;
  sizes = {.straight = arms.long_arm,
           .radius = arms.size,
           .arm = arms.arm,
           .lowest = arms.short_arm - arms.size,
           .highest = arms.short_arm,
           .socket = true};
  return sizes;
}

}  // namespace

std::vector<ToolRoom> tool_rooms(const Part& part, const Bolt& bolt, Reach reach) {
  // Outwards from the head: z grows away from the tip, and is 0 where the head ends.
  const Box body = bounds(*part.shape);
  const Vec3 out = -part.frame.z;
  const Frame frame = frame_zx(part.frame.point({0, 0, body.lo.z}), out, part.frame.x);
  const auto rod = [&](double radius, double height) {
    return convex_prism(round(radius), 0.0, height, frame);
  };
  const ConvexPiece way_in = rod(bolt.head_diameter / 2, bolt.length);

  const Sizes sizes = sizes_of(bolt);
  if (reach == Reach::straight) return {{rod(sizes.radius, sizes.straight), way_in}};
  std::vector<ToolRoom> rooms;
  if (reach == Reach::leaning && !sizes.socket) return rooms;
  for (int turn = 0; turn < kTurns; ++turn) {
    const double angle = turn * 2 * kPi / kTurns;
    if (reach == Reach::arm) {
      rooms.push_back(
          {convex_prism(sweep(sizes.arm, angle), sizes.lowest, sizes.highest, frame), way_in});
      if (sizes.highest > 0.0) rooms.back().push_back(rod(bolt.spanner / 2, sizes.highest));
    } else {
      const Vec3 across = frame.direction({std::cos(angle), std::sin(angle), 0});
      const Vec3 axis = out * std::cos(kLean) + across * std::sin(kLean);
      rooms.push_back({convex_prism(round(bolt.spanner / std::sqrt(3.0)), 0.0, sizes.straight,
                                    frame_zx(frame.origin, axis, cross(across, out))),
                       way_in});
    }
  }
  return rooms;
}

namespace {

std::vector<Vec3> ways_aside(Vec3 out) {
  constexpr std::array<double, 5> kSteps{0.0, -1.0, 1.0, -0.5, 0.5};
  std::vector<Vec3> ways;
  for (const double x : kSteps) {
    for (const double y : kSteps) {
      for (const double z : kSteps) {
        const bool new_way = std::max({std::abs(x), std::abs(y), std::abs(z)}) > 0.9;
        const Vec3 way = new_way ? normalized({x, y, z}) : Vec3{};
        if (new_way && dot(way, out) > kBehind) ways.push_back(way);
      }
    }
  }
  return ways;
}

}  // namespace

std::vector<HandWay> hand_ways(const Part& part, const Box& around) {
  const Vec3 out = -part.frame.z;
  const Vec3 head = part.frame.point({0, 0, bounds(*part.shape).lo.z}) + out * kHandRadius;
  std::vector<HandWay> ways;
  const auto add = [&](Vec3 way, bool axis) {
    const double far = leaves(around, head, way) + kHandBeyond;
    if (far > kArmReach) return;
    const Vec3 across = std::abs(way.z) > 0.9 ? Vec3{1, 0, 0} : Vec3{0, 0, 1};
    ways.push_back(
        {frame_zx(head, way, cross(way, across)), std::max(far, kToolStretch + kHandBeyond), axis});
  };
  add(out, true);
  for (const Vec3 way : ways_aside(out)) add(way, false);
  return ways;
}

ToolRoom hand_room(const HandWay& way) {
  return {convex_prism(round(kDriverRadius), kHandRadius, kToolStretch, way.along),
          convex_prism(round(kHandRadius), kToolStretch, way.far, way.along)};
}

}  // namespace ribbay::detail

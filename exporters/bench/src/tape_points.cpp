#include "tape_points.hpp"

#include "base/wording.hpp"
#include "drawings/convex_hull.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

constexpr double kTouch = 2.0;       ///< a tape may rub past what it is bent by less, mm
constexpr double kShortest = 100.0;  ///< nearer points are no help, mm
constexpr double kFlattest =
    0.34;  ///< sine of 20 degrees: flatter, a mm of tape is three on the floor
constexpr double kLong = 4000.0;  ///< a tape twice as long is as bad as a pair half as square, mm
constexpr double kSecondHand = 0.5;  ///< a corner taped before adds its own error

constexpr double kBesideWall = 60.0;  ///< a rule reaches that far, mm
constexpr double kAlong = 0.7;        ///< of its length a tape must run along the wall

bool blocks(const ConvexPiece& piece, Vec3 a, Vec3 b) {
  const Vec3 d = b - a;
  double from = 0.0;
  double to = 1.0;
  for (const std::vector<int>& face : piece.faces) {
    const auto corner = [&](std::size_t i) {
      return piece.vertices[static_cast<std::size_t>(face[i])];
    };
    const Vec3 across = cross(corner(1) - corner(0), corner(2) - corner(0));
    if (length(across) <= 0.0) continue;
    const Vec3 n = normalized(across);
    const double room = dot(n, corner(0)) - kTouch - dot(n, a);
    const double slope = dot(n, d);
    if (slope == 0.0) {
      if (room <= 0.0) return false;
    } else if (slope > 0.0) {
      to = std::min(to, room / slope);
    } else {
      from = std::max(from, room / slope);
    }
    if (from >= to) return false;
  }
  return true;
}

/// One of two keys, by the side.
std::string said(VanSide side, const char* left, const char* right) {
  return say(side == VanSide::left ? left : right);
}

}  // namespace

std::vector<TapePoint> van_points(const Vehicle& van, double z) {
  std::vector<TapePoint> points;
  char letter = 'A';
  const auto add = [&](const std::string& what, std::optional<Vec2> at, bool there) {
    const std::string name(1, letter++);
    if (at && there) points.push_back({name, what, {at->x, at->y, z}});
  };
  const auto wall = [&](VanSide side, double x) -> std::optional<Vec2> {
    const auto y = wall_y(van, side, x, z);
    if (!y) return std::nullopt;
    return Vec2{x, *y};
  };
  for (const Opening& o : van.openings) {
    const bool there = z >= o.bottom && z <= o.top;
    if (o.kind == OpeningKind::rear) {
      add(say("tape.rear_right"), Vec2{0.0, std::min(o.from, o.to)}, there);
      add(say("tape.rear_left"), Vec2{0.0, std::max(o.from, o.to)}, there);
    } else {
      add(said(o.side, "tape.left_door_rear", "tape.right_door_rear"),
          wall(o.side, std::min(o.from, o.to)), there);
      add(said(o.side, "tape.left_door_front", "tape.right_door_front"),
          wall(o.side, std::max(o.from, o.to)), there);
    }
  }
  for (const VanSide side : {VanSide::right, VanSide::left}) {
    if (van.front_closed)
      add(said(side, "tape.bulkhead_left", "tape.bulkhead_right"), wall(side, van.x_max()), true);
    if (van.rear_closed)
      add(said(side, "tape.rear_end_left", "tape.rear_end_right"), wall(side, van.x_min()), true);
  }
  return points;
}

void Obstacles::add(const Part& part) {
  for (const ConvexPiece& piece : ribbay::pieces(part.body()))
    pieces.push_back(placed(piece, part.frame));
}

bool Obstacles::free(Vec3 a, Vec3 b) const {
  const Vec3 lo{std::min(a.x, b.x), std::min(a.y, b.y), std::min(a.z, b.z)};
  const Vec3 hi{std::max(a.x, b.x), std::max(a.y, b.y), std::max(a.z, b.z)};
  return std::ranges::none_of(pieces, [&](const ConvexPiece& piece) {
    for (int axis = 0; axis < 3; ++axis) {
      if (piece.box.hi[axis] < lo[axis] || piece.box.lo[axis] > hi[axis]) return false;
    }
    return blocks(piece, a, b);
  });
}

Obstacles obstacles_of(const Vehicle& van) {
  Obstacles all;
  for (const VehicleBody& body : vehicle_bodies(van)) {
    // Doors are open while the van is marked out.
    if (body.id.starts_with("vehicle/leaf.")) continue;
    all.pieces.insert(all.pieces.end(), body.pieces.begin(), body.pieces.end());
  }
  return all;
}

namespace {

/// Where a level plane cuts the edges of a part's pieces.
std::vector<std::vector<Vec2>> cut_at(const Part& part, double level) {
  std::vector<std::vector<Vec2>> cuts;
  for (const ConvexPiece& bare : pieces(part.body())) {
    const ConvexPiece piece = placed(bare, part.frame);
    std::vector<Vec2> cut;
    for (const std::vector<int>& face : piece.faces) {
      for (std::size_t i = 0; i < face.size(); ++i) {
        const Vec3 a = piece.vertices[static_cast<std::size_t>(face[i])];
        const Vec3 b = piece.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
        if ((a.z - level) * (b.z - level) > 0.0 || a.z == b.z) continue;
        const Vec3 p = a + (b - a) * ((level - a.z) / (b.z - a.z));
        cut.push_back({p.x, p.y});
      }
    }
    if (cut.size() > 2) cuts.push_back(std::move(cut));
  }
  return cuts;
}

Rect box_of(const std::vector<Vec2>& points) {
  Rect box{points.front(), points.front()};
  for (const Vec2 p : points) box = united(box, {p, p});
  return box;
}

/// The corner that points reach in the direction of `way`: that of their box where only a rounding
/// parts them.
Vec2 corner_of(const std::vector<Vec2>& points, Vec2 way) {
  constexpr double rounding = 6.0;  // largest radius of a profile's or board's edge, mm
  const Vec2 reached = *std::ranges::max_element(points, {}, [&](Vec2 p) { return dot(p, way); });
  const Rect box = box_of(points);
  const Vec2 corner{way.x > 0 ? box.hi.x : box.lo.x, way.y > 0 ? box.hi.y : box.lo.y};
  return length(corner - reached) < rounding ? corner : reached;
}

}  // namespace

Footprint footprint(const std::vector<const Part*>& parts) {
  double low = std::numeric_limits<double>::infinity();
  for (const Part* part : parts) low = std::min(low, bounds(*part).lo.z);
  const double level = low + 1.0;
  Footprint found;
  std::vector<std::pair<const Part*, std::vector<Vec2>>> cuts;  // all points of a part
  for (const Part* part : parts) {
    if (bounds(*part).lo.z > level) continue;
    std::vector<Vec2> all;
    for (std::vector<Vec2>& cut : cut_at(*part, level))
      all.insert(all.end(), cut.begin(), cut.end());
    if (all.size() > 2) cuts.emplace_back(part, std::move(all));
  }
  for (const auto& [part, points] : cuts) found.outlines.push_back(convex_hull(points));
  if (cuts.empty()) return found;
  for (const Vec2 way : {Vec2{-1, -1}, Vec2{1, -1}, Vec2{1, 1}, Vec2{-1, 1}}) {
    double most = -std::numeric_limits<double>::infinity();
    Footprint::Corner corner;
    for (const auto& [part, points] : cuts) {
      const Vec2 sharp = corner_of(points, way);
      if (dot(sharp, way) <= most + 1e-6) continue;
      most = dot(sharp, way);
      corner = {{sharp.x, sharp.y, low}, way, part};
    }
    found.corners.push_back(corner);
  }
  return found;
}

bool reaches(const Footprint::Corner& corner, double z) {
  std::vector<Vec2> points;
  for (const std::vector<Vec2>& cut : cut_at(*corner.part, z))
    points.insert(points.end(), cut.begin(), cut.end());
  constexpr double as_read = 0.5;  // a tape is read to the mm
  return !points.empty() &&
         length(corner_of(points, corner.way) - Vec2{corner.at.x, corner.at.y}) < as_read;
}

std::vector<TapePoint> best_pair(const std::vector<TapePoint>& points, std::size_t of_van,
                                 const Obstacles& obstacles, Vec3 corner) {
  std::vector<std::size_t> reached;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (length(points[i].at - corner) >= kShortest && obstacles.free(points[i].at, corner))
      reached.push_back(i);
  }
  std::vector<TapePoint> best;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t a = 0; a < reached.size(); ++a) {
    for (std::size_t b = a + 1; b < reached.size(); ++b) {
      const Vec3 p = points[reached[a]].at - corner;
      const Vec3 q = points[reached[b]].at - corner;
      const double sine = length(cross(p, q)) / (length(p) * length(q));
      if (sine < kFlattest) continue;
      const auto bad = [&](std::size_t i) { return reached[i] >= of_van ? kSecondHand : 0.0; };
      const double score = 1.0 / sine + (length(p) + length(q)) / kLong + bad(a) + bad(b);
      if (score >= least - 1e-9) continue;
      least = score;
      best = {points[reached[a]], points[reached[b]]};
    }
  }
  return best;
}

std::vector<TapePoint> along_wall(const std::vector<TapePoint>& points, const Vehicle& van,
                                  const Obstacles& obstacles, Vec3 corner) {
  const VanSide side = corner.y > 0.0 ? VanSide::left : VanSide::right;
  const auto y = wall_y(van, side, corner.x, corner.z);
  if (!y || std::abs(*y - corner.y) > kBesideWall) return {};
  const TapePoint* best = nullptr;
  for (const TapePoint& point : points) {
    const Vec3 way = point.at - corner;
    if (length(way) < kShortest || std::abs(way.x) < kAlong * length(way) ||
        !obstacles.free(point.at, corner))
      continue;
    if (best == nullptr || length(way) < length(best->at - corner)) best = &point;
  }
  if (best == nullptr) return {};
  return {*best,
          {say("tape.wall"),
           said(side, "tape.wall_left", "tape.wall_right"),
           {corner.x, *y, corner.z}}};
}

}  // namespace ribbay::detail

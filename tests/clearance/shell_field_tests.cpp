// Parts beside walls and roofs of curved vans against a signed distance field that is made here,
// from the stations alone and the rule by which the vehicle's header joins them. A part is set so
// that it just stands free of the surface, or just through it; how far its furthest point lies
// inside or outside is found by dividing its faces until the field, which changes by no more than
// the distance gone, leaves nothing open. No wedge and no separating axis is used.
#include "clearance/clearance.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <numbers>
#include <queue>

using namespace ribbay;
using scenes::Dice;

namespace {

using Triangle = std::array<Vec3, 3>;

/// Walls that bulge, step in and out from station to station and lean in to a narrow roof; heights
/// differ from station to station, so that the fields between them are twisted.
std::shared_ptr<const Vehicle> curved_van(unsigned seed) {
  Dice dice(seed);
  Vehicle van = *scenes::plain_van();
  van.stations.clear();
  for (const double x : {0.0, 650.0, 1500.0, 2600.0, 3300.0, 4000.0}) {
    Station station;
    station.x = x;
    const double roof = dice.real(1880, 1920);
    const double belly = 930 - 40 * std::pow((x - 2000) / 2000, 2);
    for (auto* wall : {&station.left, &station.right}) {
      const int count = dice.whole(6, 9);
      for (int i = 0; i <= count; ++i) {
        const double angle = std::numbers::pi / 2 * i / count;
        const double in_or_out = dice.real(-12, 12);
        const double half = belly * std::pow(std::cos(angle), 0.4) + in_or_out;
        wall->push_back({roof * std::sin(angle), i == count ? 30.0 : half, 0.0});
      }
    }
    van.stations.push_back(station);
  }
  return std::make_shared<const Vehicle>(van);
}

double distance_to_segment(Vec3 p, Vec3 a, Vec3 b) {
  const double t = std::clamp(dot(p - a, b - a) / dot(b - a, b - a), 0.0, 1.0);
  return length(p - (a + (b - a) * t));
}

double distance_to_triangle(Vec3 p, const Triangle& t) {
  const Vec3 normal = cross(t[1] - t[0], t[2] - t[0]);
  bool over = true;
  for (int k = 0; k < 3; ++k) {
    const Vec3 a = t[static_cast<std::size_t>(k)];
    const Vec3 b = t[static_cast<std::size_t>((k + 1) % 3)];
    over = over && dot(cross(normal, b - a), p - a) >= 0.0;
  }
  if (over) return std::abs(dot(p - t[0], normal)) / length(normal);
  return std::min({distance_to_segment(p, t[0], t[1]), distance_to_segment(p, t[1], t[2]),
                   distance_to_segment(p, t[2], t[0])});
}

/// The y of a triangle at x and z; nullopt where it is not.
std::optional<double> y_at(const Triangle& t, double x, double z) {
  const auto area = [](Vec3 a, Vec3 b, double px, double pz) {
    return (b.x - a.x) * (pz - a.z) - (b.z - a.z) * (px - a.x);
  };
  const double whole = area(t[0], t[1], t[2].x, t[2].z);
  const double u = area(t[1], t[2], x, z) / whole;
  const double v = area(t[2], t[0], x, z) / whole;
  if (whole == 0.0 || u < -1e-12 || v < -1e-12 || u + v > 1 + 1e-12) return std::nullopt;
  return t[0].y * u + t[1].y * v + t[2].y * (1 - u - v);
}

class DistanceField {
 public:
  explicit DistanceField(const Vehicle& van) {
    for (std::size_t s = 0; s + 1 < van.stations.size(); ++s) {
      add_wall(van.stations[s], van.stations[s + 1], 1.0);
      add_wall(van.stations[s], van.stations[s + 1], -1.0);
      // The roof: both its sides run at one height at each station, so it is plane.
      const auto top = [](const Station& station, double side) {
        const WallPoint p = (side > 0 ? station.left : station.right).back();
        return Vec3{station.x, side * p.half_width, p.z};
      };
      const Station& rear = van.stations[s];
      const Station& front = van.stations[s + 1];
      surface_.push_back({top(rear, 1), top(rear, -1), top(front, 1)});
      surface_.push_back({top(front, 1), top(rear, -1), top(front, -1)});
    }
  }

  /// mm to the surface, positive in the room; as of kFar mm what is further off.
  double at(Vec3 p) const {
    double least = kFar;
    for (const std::size_t i : close_)
      least = std::min(least, distance_to_triangle(p, surface_[i]));
    return in_room(p) ? least : -least;
  }

  /// Only triangles that this box comes near to matter from now on.
  void look_around(const Box& box) {
    close_.clear();
    for (std::size_t i = 0; i < surface_.size(); ++i) {
      Box bounds;
      for (const Vec3& p : surface_[i]) bounds.add(p);
      if (near(bounds, box, kFar)) close_.push_back(i);
    }
    for (std::size_t side = 0; side < 2; ++side) {
      beside_[side].clear();
      for (const Triangle& t : walls_[side]) {
        Box bounds;
        for (const Vec3& p : t) bounds.add(Vec3{p.x, 0, p.z});
        const Box shadow{{box.lo.x, 0, box.lo.z}, {box.hi.x, 0, box.hi.z}};
        if (near(bounds, shadow, 1.0)) beside_[side].push_back(t);
      }
    }
  }

  static constexpr double kFar = 80.0;

 private:
  /// From the floor up the next lower one of the two next points goes first, at equal heights that
  /// of the rear station.
  void add_wall(const Station& rear_station, const Station& front_station, double side) {
    const auto points = [&](const Station& station) {
      std::vector<Vec3> made;
      for (const WallPoint& p : side > 0 ? station.left : station.right)
        made.push_back({station.x, side * p.half_width, p.z});
      return made;
    };
    const std::vector<Vec3> rear = points(rear_station);
    const std::vector<Vec3> front = points(front_station);
    for (std::size_t i = 0, k = 0; i + 1 < rear.size() || k + 1 < front.size();) {
      const bool rear_next =
          k + 1 == front.size() || (i + 1 < rear.size() && rear[i + 1].z <= front[k + 1].z);
      surface_.push_back({rear[i], front[k], rear_next ? rear[i + 1] : front[k + 1]});
      walls_[side > 0].push_back(surface_.back());
      ++(rear_next ? i : k);
    }
  }

  /// Both walls are functions of x and z; above them is the roof.
  bool in_room(Vec3 p) const {
    for (const Triangle& t : beside_[p.y > 0.0]) {
      if (const auto y = y_at(t, p.x, p.z)) return std::abs(p.y) <= std::abs(*y);
    }
    return false;
  }

  std::vector<Triangle> surface_;
  std::array<std::vector<Triangle>, 2> walls_;
  std::array<std::vector<Triangle>, 2> beside_;  ///< those of the walls that stand beside the box
  std::vector<std::size_t> close_;
};

constexpr double kLeft = 0.2;  // mm

/// A rectangle in space: its corner and two sides.
struct Face {
  Vec3 corner, u, v;
  Vec3 middle() const { return corner + (u + v) * 0.5; }
  double radius() const { return std::max(length(u + v), length(u - v)) / 2; }
};

std::vector<Face> faces_of(const Part& part) {
  std::vector<Face> all;
  for (const PlacedPrism& placed : part.shape->prisms) {
    const Box box = bounds(Shape{{placed}});
    const Vec3 size = box.size();
    const auto to_van = [&](Vec3 v) { return part.frame.direction(v); };
    const Vec3 sides[] = {to_van({size.x, 0, 0}), to_van({0, size.y, 0}), to_van({0, 0, size.z})};
    const Vec3 low = part.frame.point(box.lo);
    const Vec3 high = part.frame.point(box.hi);
    for (int k = 0; k < 3; ++k) {
      const Vec3 u = sides[k];
      const Vec3 v = sides[(k + 1) % 3];
      all.push_back({low, u, v});
      all.push_back({high, u * -1.0, v * -1.0});
    }
  }
  return all;
}

/// The least value of the field over the corners of the part.
double least_at_corners(const DistanceField& field, const Part& part) {
  double least = DistanceField::kFar;
  for (const Face& face : faces_of(part)) {
    for (const Vec3& p : {face.corner, face.corner + face.u, face.corner + face.v})
      least = std::min(least, field.at(p));
  }
  return least;
}

/// The least value of the field over the part's faces: no more than `kLeft` above the true one. A
/// face whose middle lies further in than its radius cannot hold a lower one.
double least_over(const DistanceField& field, const Part& part) {
  struct Open {
    double bound;
    Face face;
    bool operator<(const Open& other) const { return bound > other.bound; }
  };
  std::priority_queue<Open> open;
  double least = DistanceField::kFar;
  const auto add = [&](const Face& face) {
    const double here = field.at(face.middle());
    least = std::min(least, here);
    open.push({here - face.radius(), face});
  };
  for (const Face& face : faces_of(part)) add(face);
  while (!open.empty() && open.top().bound < least - kLeft) {
    Face face = open.top().face;
    open.pop();
    if (length(face.u) < length(face.v)) std::swap(face.u, face.v);
    face.u = face.u * 0.5;
    add(face);
    face.corner = face.corner + face.u;
    add(face);
  }
  return least;
}

/// A box or an angle of two boxes, turned anyhow, its middle at the origin.
Part random_part(Dice& dice) {
  const Vec3 half{dice.real(10, 140), dice.real(10, 60), dice.real(10, 140)};
  Shape shape = box_shape(half * -1.0, half);
  if (dice.whole(0, 2) == 0) {
    shape.prisms.push_back(
        box_shape({-half.x, half.y, -half.z}, {-half.x + 10, half.y + 80, half.z}).prisms.front());
  }
  Frame frame;
  if (dice.whole(0, 3) != 0)
    frame = scenes::turned_frame(dice.direction(), dice.real(0, std::numbers::pi));
  return scenes::part("a/part", std::move(shape), frame);
}

/// The numbers that findings of this code measured.
std::vector<double> measured(const ClearanceResult& result, const char* code) {
  std::vector<double> all;
  for (const Finding& finding : result.findings) {
    if (finding.code == code) all.push_back(std::get<double>(finding.argument("measured")->value));
  }
  return all;
}

}  // namespace

TEST_CASE("parts beside curved walls and roofs are judged as a distance field has it",
          "[clearance][truth]") {
  int through = 0;
  int free = 0;
  int false_passes = 0;
  int false_alarms = 0;
  for (const unsigned seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
    Dice dice(20261126 + seed);
    const auto van = curved_van(seed);
    DistanceField field(*van);
    for (int i = 0; i < 350; ++i) {
      CAPTURE(seed, i);
      Part part = random_part(dice);
      // From the middle of the room outward, to a wall or up to the roof.
      const double up = dice.real(-0.2, 1.2);
      const Vec3 way = normalized({0, dice.whole(0, 1) == 0 ? 1.0 : -1.0, up});
      part.frame.origin = {dice.real(350, 3650), 0, dice.real(350, 1100)};
      const double target = dice.whole(0, 1) == 0 ? dice.real(0.5, 5) : -dice.real(0.5, 5);
      for (int step = 0; step < 60; ++step) {
        field.look_around(bounds(part));
        const double room = least_at_corners(field, part);
        if (std::abs(room - target) < 0.1) break;
        part.frame.origin = part.frame.origin + way * (room - target);
      }
      field.look_around(bounds(part));
      const double room = least_over(field, part);
      const bool open = room > -0.02 && room < kLeft + 0.02;
      if (open || bounds(part).lo.z < 10) continue;
      Layout layout = scenes::layout_of({part});
      layout.vehicle = van;
      layout.tight = 6.0;
      const ClearanceResult result = check_clearance(layout);
      const std::vector<double> depths = measured(result, "clearance.clash");
      CAPTURE(room);
      if (room < 0) {
        ++through;
        false_passes += depths.empty() ? 1 : 0;
        // Its furthest point must come back by that at least.
        if (!depths.empty()) CHECK(*std::ranges::max_element(depths) > -room - 0.001);
      } else {
        ++free;
        false_alarms += depths.empty() ? 0 : 1;
        if (room > layout.tight - 0.1) continue;
        const std::vector<double> gaps = measured(result, "clearance.tight");
        REQUIRE_FALSE(gaps.empty());
        const double least = *std::ranges::min_element(gaps);
        CHECK(least < room + 0.001);
        CHECK(least > room - kLeft - 0.001);
      }
    }
  }
  WARN("beside curved walls: " << through << " through them, " << free << " free, " << false_passes
                               << " false passes, " << false_alarms << " false alarms");
  CHECK(false_passes == 0);
  CHECK(false_alarms == 0);
  CHECK(through > 900);
  CHECK(free > 900);
}

#pragma once

#include "vehicle/vehicle.hpp"

#include <random>
#include <string>
#include <utility>

/// Vehicles for the tests: the committed files, and rooms made to be awkward.
namespace ribbay::tests {

/// Reads TOML text as a vehicle file.
inline Result<Vehicle> read_text(const std::string& text) {
  const ReadFile give = [&](const std::string&) -> Result<std::string> { return text; };
  auto document = load_document("van.toml", {}, give);
  if (!document.findings.empty()) return fail(document.findings);
  return read_vehicle(document.value);
}

inline std::string vehicle_path(const std::string& name) {
  return RIBBAY_SOURCE_DIR "/params/vehicles/" + name + ".toml";
}

inline Vehicle committed_vehicle(const std::string& name) {
  const auto vehicle = read_vehicle(load_document(vehicle_path(name)).value);
  return vehicle ? *vehicle : Vehicle{};
}

inline Station station(double x, std::vector<WallPoint> left, std::vector<WallPoint> right) {
  Station result;
  result.name = std::to_string(static_cast<int>(x));
  result.x = x;
  result.left = std::move(left);
  result.right = std::move(right);
  return result;
}

/// A room of 2000 x 1800 x 1900 with upright walls and a flat roof.
inline Vehicle plain_box() {
  Vehicle vehicle;
  const std::vector<WallPoint> wall{{0, 900}, {1900, 900}};
  vehicle.stations = {station(0, wall, wall), station(2000, wall, wall)};
  return vehicle;
}

/// Walls that step in and out, stations with other heights, tops that lie at other heights left and
/// right: no van looks like this, so every shortcut shows.
inline Vehicle awkward_room(unsigned seed) {
  std::mt19937 random(seed);
  const auto draw = [&](double lo, double hi) {
    return lo + (hi - lo) * static_cast<double>(random()) / 4294967296.0;
  };
  const auto wall = [&] {
    std::vector<WallPoint> points{{0.0, draw(700, 900)}};
    const int count = 3 + static_cast<int>(draw(0, 6));
    for (int i = 1; i <= count; ++i) {
      const double last = points.back().z;
      const bool roof = i + 2 >= count;
      points.push_back({last + draw(roof ? 20 : 90, roof ? 60 : 400),
                        roof ? points.back().half_width * draw(0.4, 0.9) : draw(750, 950)});
    }
    return points;
  };
  Vehicle vehicle;
  for (double x = -100; x < 2600; x += draw(300, 1200)) {
    vehicle.stations.push_back(station(x, wall(), wall()));
  }
  return vehicle;
}

/// The vehicle seen in a mirror that stands along the centre line.
inline Vehicle mirrored(Vehicle vehicle) {
  const auto other = [](VanSide side) {
    return side == VanSide::left ? VanSide::right : VanSide::left;
  };
  for (Station& station : vehicle.stations) std::swap(station.left, station.right);
  for (Rib& rib : vehicle.ribs) rib.side = other(rib.side);
  for (Bow& bow : vehicle.bows) {
    bow.from = -std::exchange(bow.to, -bow.from);
  }
  for (WheelArch& arch : vehicle.arches) arch.side = other(arch.side);
  for (Opening& opening : vehicle.openings) {
    if (opening.kind != OpeningKind::rear) {
      opening.side = other(opening.side);
    } else {
      opening.from = -std::exchange(opening.to, -opening.from);
    }
  }
  return vehicle;
}

/// Uniform random numbers, the same everywhere.
class Dice {
 public:
  explicit Dice(unsigned seed) : random_(seed) {}
  double operator()(double lo, double hi) {
    return lo + (hi - lo) * static_cast<double>(random_()) / 4294967296.0;
  }

 private:
  std::mt19937 random_;
};

}  // namespace ribbay::tests

#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"
#include "spec/names.hpp"

#include <algorithm>
#include <cmath>

/// The floor and what lies under it.
namespace ribbay::detail {

namespace {

/// Gives the joist its ends and checks that it lies under the floor.
bool place_joist(Reading& reading, Joist& joist, const Record& record) {
  const double x0 = joist.across ? joist.at - joist.width / 2.0 : reading.vehicle().x_min();
  const double x1 = joist.across ? joist.at + joist.width / 2.0 : reading.vehicle().x_max();
  if (!reading.along_stations(joist.name, record.place("at"), x0, x1)) return false;
  const double left = least_half_width(reading.vehicle(), VanSide::left, x0, x1, 0.0, 0.0);
  const double right = -least_half_width(reading.vehicle(), VanSide::right, x0, x1, 0.0, 0.0);
  joist.from = record.number_if("from").value_or(joist.across ? right : x0);
  joist.to = record.number_if("to").value_or(joist.across ? left : x1);
  if (joist.to - joist.from < kContact) {
    reading.report("vehicle.empty_range", record.place("to"), joist.name)
        .with("low_name", "from")
        .with("low", joist.from, Unit::mm)
        .with("high_name", "to")
        .with("high", joist.to, Unit::mm);
    return false;
  }
  if (joist.across) return true;
  if (!reading.along_stations(joist.name, record.place("from"), joist.from, joist.to)) return false;
  if (joist.at - joist.width / 2.0 >= right && joist.at + joist.width / 2.0 <= left) return true;
  reading.report("vehicle.joist_beside_floor", record.place("at"), joist.name)
      .with("at", joist.at, Unit::mm)
      .with("right", right, Unit::mm)
      .with("left", left, Unit::mm);
  return false;
}

void add_joists(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const int count = reading.copies(named);
  for (int i = 0; i < count; ++i) {
    Joist joist;
    joist.name = copy_name(named, false, VanSide::left, i, count);
    joist.across = record.text("runs") == "across";
    joist.at = record.number("at") + i * record.number_if("pitch").value_or(0.0);
    joist.width = record.number("width");
    joist.flange = record.number("flange");
    if (reading.new_name("joist", joist.name, record.place()) &&
        place_joist(reading, joist, record)) {
      reading.vehicle().joists.push_back(std::move(joist));
    }
  }
}

/// Distance of the walls at the floor over x0..x1, as y of the right and the left one.
struct FloorEdges {
  double right = 0.0;
  double left = 0.0;
};
FloorEdges floor_edges(const Vehicle& vehicle, double x0, double x1) {
  return {-least_half_width(vehicle, VanSide::right, x0, x1, 0.0, 0.0),
          least_half_width(vehicle, VanSide::left, x0, x1, 0.0, 0.0)};
}

void add_hard_points(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const int count = reading.copies(named);
  const bool along = record.text("row") == "along";
  for (int i = 0; i < count; ++i) {
    const double by = i * record.number_if("pitch").value_or(0.0);
    HardPoint point;
    point.name = copy_name(named, false, VanSide::left, i, count);
    point.at = {record.number("x") + (along ? by : 0.0), record.number("y") + (along ? 0.0 : by)};
    point.thread = record.text("thread");
    point.strength = record.text_or("strength", "");
    if (!reading.new_name("hard_point", point.name, record.place()) ||
        !reading.along_stations(point.name, record.place("x"), point.at.x, point.at.x)) {
      continue;
    }
    const auto [right, left] = floor_edges(reading.vehicle(), point.at.x, point.at.x);
    if (point.at.y >= right && point.at.y <= left) {
      reading.vehicle().hard_points.push_back(std::move(point));
      continue;
    }
    reading.report("vehicle.point_beside_floor", record.place("y"), point.name)
        .with("at", point.at.y, Unit::mm)
        .with("right", right, Unit::mm)
        .with("left", left, Unit::mm);
  }
}

void add_no_drill(Reading& reading, const Named& named) {
  const Record& record = named.record;
  if (!reading.rising(named, "from", "to") || !reading.rising(named, "right", "left")) return;
  NoDrill zone{named.name,
               record.number("from"),
               record.number("to"),
               record.number("right"),
               record.number("left"),
               record.text("what"),
               record.number("below")};
  // What lies below may reach past the floor; but a zone that misses it is a slip.
  const Vehicle& vehicle = reading.vehicle();
  const double x0 = std::max(zone.from, vehicle.x_min());
  const double x1 = std::min(zone.to, vehicle.x_max());
  if (x0 > x1) {
    reading.along_stations(zone.name, record.place("from"), zone.from, zone.to);
    return;
  }
  const double right = -largest_half_width(vehicle, VanSide::right, x0, x1, 0.0, 0.0);
  const double left = largest_half_width(vehicle, VanSide::left, x0, x1, 0.0, 0.0);
  if (zone.left > right && zone.right < left) {
    reading.vehicle().no_drill.push_back(std::move(zone));
    return;
  }
  reading.report("vehicle.zone_beside_floor", record.place("right"), zone.name)
      .with("zone_right", zone.right, Unit::mm)
      .with("zone_left", zone.left, Unit::mm)
      .with("right", right, Unit::mm)
      .with("left", left, Unit::mm);
}

/// The layers of the floor; those with a fault are reported.
std::vector<FloorLayer> layers(Reading& reading, const Record& floor) {
  std::vector<FloorLayer> result;
  for (const auto& [number, record] : floor.tables("layers")) {
    FloorLayer layer{record.text("name"), record.number("thickness"),
                     record.text_or("material", ""), record.flag("soft")};
    if (!is_name(layer.name)) {
      Finding& finding =
          reading.report("input.bad_name", record.place("name"), "floor").with("found", layer.name);
      const std::string mended = mended_name(layer.name);
      if (!mended.empty()) finding.with("mended", mended);
    } else if (reading.new_name("layer", layer.name, record.place("name"))) {
      result.push_back(std::move(layer));
    }
  }
  return result;
}

}  // namespace

void read_floor(Reading& reading, bool head_good) {
  if (!reading.has_table("floor")) return;
  const std::size_t before = reading.faults();
  const auto floor = reading.evaluator().record("floor");
  if (!floor) return;
  Vehicle& vehicle = reading.vehicle();
  vehicle.floor_layers = layers(reading, *floor);
  vehicle.floor_backing = floor->number("backing");
  if (reading.faults() != before || vehicle.floor_layers.empty()) return;
  double total = 0.0;
  for (const FloorLayer& layer : vehicle.floor_layers) total += layer.thickness;
  if (head_good && reading.head().given("floor_thickness") &&
      std::abs(total - vehicle.floor_thickness) >= kContact) {
    reading.report("vehicle.floor_thickness", reading.head().place("floor_thickness"), "floor")
        .with("given", vehicle.floor_thickness, Unit::mm)
        .with("sum", total, Unit::mm);
    return;
  }
  vehicle.floor_thickness = total;
}

void read_hard_points(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("hard_point")) {
    if (stations_good) add_hard_points(reading, named);
  }
}

void read_no_drill(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("no_drill")) {
    if (stations_good) add_no_drill(reading, named);
  }
}

void read_joists(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("joist")) {
    if (stations_good) add_joists(reading, named);
  }
}

}  // namespace ribbay::detail

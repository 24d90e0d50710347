#include "base/tolerance.hpp"
#include "reading.hpp"

namespace ribbay::detail {

namespace {

std::optional<Axle> read_axle(Reading& reading, const Record& axles, const std::string& name) {
  if (!axles.has(name)) return std::nullopt;
  const Record& record = axles.table(name);
  Axle axle{record.number("x"), record.number("track"), record.number("limit"),
            record.number("empty")};
  if (axle.empty_kg > axle.limit_kg) {
    reading.report("vehicle.axle_overloaded", record.place("empty"), "axle." + name)
        .with("empty", axle.empty_kg, Unit::kg)
        .with("limit", axle.limit_kg, Unit::kg);
  }
  return axle;
}

}  // namespace

void read_axles(Reading& reading) {
  if (!reading.has_table("axle")) return;
  const auto axles = reading.evaluator().record("axle");
  if (!axles) return;
  Vehicle& vehicle = reading.vehicle();
  vehicle.front_axle = read_axle(reading, *axles, "front");
  vehicle.rear_axle = read_axle(reading, *axles, "rear");
  if (!vehicle.front_axle || !vehicle.rear_axle) return;
  const Axle& front = *vehicle.front_axle;
  const Axle& rear = *vehicle.rear_axle;
  if (front.x <= rear.x) {
    reading.report("vehicle.axles_swapped", axles->table("front").place("x"), "axle.front")
        .with("front", front.x, Unit::mm)
        .with("rear", rear.x, Unit::mm);
  }
  const double empty = front.empty_kg + rear.empty_kg;
  if (vehicle.gross_limit_kg > 0.0 && empty > vehicle.gross_limit_kg) {
    reading.report("vehicle.empty_over_gross", axles->place(), "axle")
        .with("empty", empty, Unit::kg)
        .with("limit", vehicle.gross_limit_kg, Unit::kg);
  }
}

}  // namespace ribbay::detail

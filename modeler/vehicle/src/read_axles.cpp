#include "reading.hpp"

#include <cmath>
#include <tuple>

/// The axles and what a weighbridge says about them.
namespace ribbay::detail {

namespace {

/// Two axle positions taped from the rear edge may together be wrong by this against the wheelbase
/// in the papers, mm: common practice, no source.
constexpr double kWheelbaseSlack = 15.0;

/// One end of the van as written, before it is known what the empty van weighs.
struct WrittenAxle {
  std::string name;
  Axle axle;
  Record record;
  bool has_empty = false;
};

std::optional<WrittenAxle> read_axle(const Record& axles, const std::string& end) {
  if (!axles.has(end)) return std::nullopt;
  const Record& record = axles.table(end);
  WrittenAxle written{"axle." + end, {}, record, record.has("empty")};
  written.axle.x = record.number("x");
  written.axle.track = record.number("track");
  written.axle.limit_kg = record.number("limit");
  written.axle.empty_kg = record.number_if("empty").value_or(0.0);
  written.axle.wheel_limit_kg = record.number_if("wheel_limit");
  return written;
}

Weighbridge weighbridge(const Record& record) {
  Weighbridge w;
  w.date = record.text("date");
  w.front_kg = record.number("front");
  w.rear_kg = record.number("rear");
  w.left_kg = record.number_if("left");
  w.right_kg = record.number_if("right");
  w.total_kg = record.number_if("total");
  w.fuel = record.number_if("fuel");
  w.persons = static_cast<int>(record.number("persons"));
  w.person_kg = record.number("person");
  w.seat_x = record.number_if("seat");
  return w;
}

/// Readings of the same van in other ways must add up. Each may be wrong by half a step.
void check_sums(Reading& reading, const Weighbridge& w, const Record& record) {
  const double axles = w.front_kg + w.rear_kg;
  const auto compare = [&](const char* what, double sum, int readings, const char* field) {
    const double allowed = (2 + readings) * record.number("step") / 2.0;
    if (std::abs(sum - axles) <= allowed) return;
    reading.report("vehicle.weighbridge_sums", record.place(field), "weighbridge")
        .with("what", what)
        .with("sum", sum, Unit::kg)
        .with("axles", axles, Unit::kg)
        .with("allowed", allowed, Unit::kg);
  };
  if (w.total_kg) compare("total", *w.total_kg, 1, "total");
  if (w.left_kg && w.right_kg) compare("left + right", *w.left_kg + *w.right_kg, 2, "right");
  if (w.left_kg.has_value() == w.right_kg.has_value()) return;
  const char* given = w.left_kg ? "left" : "right";
  reading.report("vehicle.weighbridge_one_side", record.place(given), "weighbridge")
      .with("given", given)
      .with("other", w.left_kg ? "right" : "left");
}

/// What each axle carries of people aboard, by the lever between them; the front one first.
std::pair<double, double> carried(const Weighbridge& w, double front_x, double rear_x) {
  if (w.persons == 0 || !w.seat_x) return {0.0, 0.0};
  const double mass = w.persons * w.person_kg;
  const double front = mass * (*w.seat_x - rear_x) / (front_x - rear_x);
  return {front, mass - front};
}

/// The readings, less the people aboard, take the place of what the axles say; false after a
/// report.
bool take_readings(Reading& reading, WrittenAxle& front, WrittenAxle& rear, const Weighbridge& w,
                   const Record& record) {
  const auto [front_people, rear_people] = carried(w, front.axle.x, rear.axle.x);
  front.axle.empty_kg = w.front_kg - front_people;
  rear.axle.empty_kg = w.rear_kg - rear_people;
  front.axle.empty_from = rear.axle.empty_from = EmptyFrom::weighbridge;
  bool good = true;
  for (const auto& [axle, field, people] :
       {std::tuple{&front, "front", front_people}, std::tuple{&rear, "rear", rear_people}}) {
    if (axle->axle.empty_kg >= 0.0) continue;
    good = false;
    reading.report("vehicle.weighbridge_people", record.place(field), "weighbridge")
        .with("field", field)
        .with("people", people, Unit::kg);
  }
  return good;
}

void check_limits(Reading& reading, const WrittenAxle& axle, const Place& place) {
  if (axle.axle.empty_kg > axle.axle.limit_kg) {
    reading.report("vehicle.axle_overloaded", place, axle.name)
        .with("empty", axle.axle.empty_kg, Unit::kg)
        .with("limit", axle.axle.limit_kg, Unit::kg);
  }
  const auto wheel = axle.axle.wheel_limit_kg;
  if (!wheel || axle.axle.empty_kg / 2.0 <= *wheel) return;
  reading.report("vehicle.wheel_overloaded", axle.record.place("wheel_limit"), axle.name)
      .with("empty", axle.axle.empty_kg / 2.0, Unit::kg)
      .with("limit", *wheel, Unit::kg);
}

void check_gross(Reading& reading, const Axle& front, const Axle& rear, const Place& place) {
  const double empty = front.empty_kg + rear.empty_kg;
  const double limit = reading.vehicle().gross_limit_kg;
  if (limit <= 0.0 || empty <= limit) return;
  reading.report("vehicle.empty_over_gross", place, "axle")
      .with("empty", empty, Unit::kg)
      .with("limit", limit, Unit::kg);
}

/// One side of both axles against the limits of its two wheels.
void check_sides(Reading& reading, const Weighbridge& w, const Axle& front, const Axle& rear,
                 const Record& record) {
  if (!front.wheel_limit_kg || !rear.wheel_limit_kg) return;
  const double limit = *front.wheel_limit_kg + *rear.wheel_limit_kg;
  for (const auto& [side, kg] : {std::pair{"left", w.left_kg}, std::pair{"right", w.right_kg}}) {
    if (!kg || *kg <= limit) continue;
    reading.report("vehicle.side_overloaded", record.place(side), "weighbridge")
        .with("side", side)
        .with("measured", *kg, Unit::kg)
        .with("limit", limit, Unit::kg);
  }
}

void check_wheelbase(Reading& reading, double between) {
  auto& wheelbase = reading.vehicle().wheelbase;
  if (wheelbase && std::abs(*wheelbase - between) > kWheelbaseSlack) {
    reading.report("vehicle.wheelbase", reading.head().place("wheelbase"), "vehicle")
        .with("given", *wheelbase, Unit::mm)
        .with("between", between, Unit::mm)
        .with("allowed", kWheelbaseSlack, Unit::mm);
  }
  wheelbase = between;
}

/// Both axles are there: everything that compares them.
void compare(Reading& reading, WrittenAxle& front, WrittenAxle& rear, const Place& axles,
             const std::optional<Record>& weighed) {
  Vehicle& vehicle = reading.vehicle();
  if (front.axle.x <= rear.axle.x) {
    reading.report("vehicle.axles_swapped", front.record.place("x"), front.name)
        .with("front", front.axle.x, Unit::mm)
        .with("rear", rear.axle.x, Unit::mm);
    return;
  }
  check_wheelbase(reading, front.axle.x - rear.axle.x);
  if (weighed) {
    vehicle.weighbridge = weighbridge(*weighed);
    check_sums(reading, *vehicle.weighbridge, *weighed);
    if (!take_readings(reading, front, rear, *vehicle.weighbridge, *weighed)) return;
    check_limits(reading, front, weighed->place("front"));
    check_limits(reading, rear, weighed->place("rear"));
    check_gross(reading, front.axle, rear.axle, weighed->place());
    check_sides(reading, *vehicle.weighbridge, front.axle, rear.axle, *weighed);
    return;
  }
  if (front.has_empty && rear.has_empty) check_gross(reading, front.axle, rear.axle, axles);
}

}  // namespace

void read_axles(Reading& reading) {
  const bool weighed = reading.has_table("weighbridge");
  const auto weighbridge =
      weighed ? reading.evaluator().record("weighbridge") : std::optional<Record>{};
  const auto axles =
      reading.has_table("axle") ? reading.evaluator().record("axle") : std::optional<Record>{};
  if (!axles) {
    if (weighbridge && !reading.has_table("axle")) {
      reading.report("vehicle.weighbridge_alone", weighbridge->place(), "weighbridge");
    }
    return;
  }
  auto front = read_axle(*axles, "front");
  auto rear = read_axle(*axles, "rear");
  for (const auto* axle : {&front, &rear}) {
    if (!*axle || weighed) continue;
    if ((*axle)->has_empty) {
      check_limits(reading, **axle, (*axle)->record.place("empty"));
    } else {
      reading.report("vehicle.no_empty", (*axle)->record.place(), (*axle)->name);
    }
  }
  if (front && rear) {
    compare(reading, *front, *rear, axles->place(), weighbridge);
  } else if (weighbridge) {
    reading.report("vehicle.weighbridge_alone", weighbridge->place(), "weighbridge");
  }
  if (front) reading.vehicle().front_axle = front->axle;
  if (rear) reading.vehicle().rear_axle = rear->axle;
}

}  // namespace ribbay::detail

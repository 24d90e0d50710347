#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

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
    if (reading.new_name("joist", joist.name, record.place()) &&
        place_joist(reading, joist, record)) {
      reading.vehicle().joists.push_back(std::move(joist));
    }
  }
}

}  // namespace

void read_joists(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("joist")) {
    if (stations_good) add_joists(reading, named);
  }
}

}  // namespace ribbay::detail

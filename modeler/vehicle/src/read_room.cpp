#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>

/// What stands in the room or opens it: ribs, wheel arches, openings.
namespace ribbay::detail {

namespace {

std::optional<RibSection> section_word(const Record& record) {
  if (!record.has("section")) return std::nullopt;
  const std::string& text = record.text("section");
  return text == "box"       ? RibSection::box
         : text == "channel" ? RibSection::channel
         : text == "hat"     ? RibSection::hat
                             : RibSection::solid;
}

/// Checks what a rib says about its own section; true when there is no fault.
bool section_good(Reading& reading, const Named& named) {
  const Record& record = named.record;
  if (!record.has("wall")) return true;
  const double wall = record.number("wall");
  if (record.text_or("section", "") == "solid") {
    reading.report("vehicle.solid_rib_wall", record.place("wall"), named.name)
        .with("wall", wall, Unit::mm);
    return false;
  }
  const double largest = std::min(record.number("width"), record.number("depth")) / 2.0;
  if (wall < largest) return true;
  reading.report("vehicle.rib_wall", record.place("wall"), named.name)
      .with("wall", wall, Unit::mm)
      .with("largest", largest, Unit::mm);
  return false;
}

void list_row(RibList& list, const Named& named, std::size_t table, int count) {
  const Record& record = named.record;
  const auto sides = sides_of(record);
  for (const VanSide side : sides) {
    for (int i = 0; i < count; ++i) {
      Rib rib;
      rib.name = copy_name(named, sides.size() > 1, side, i, count);
      rib.side = side;
      rib.x = record.number("x") + i * record.number_if("pitch").value_or(0.0);
      rib.width = record.number("width");
      rib.depth = record.number("depth");
      rib.from = record.number("from");
      rib.to = record.number("to");
      rib.section = section_word(record);
      rib.wall = record.number_if("wall").value_or(0.0);
      rib.steel = record.flag("steel");
      list.ribs.push_back({std::move(rib), table});
    }
  }
}

bool good_rib(Reading& reading, const Rib& rib, const Record& record) {
  const double from = rib.x - rib.width / 2.0;
  const double to = rib.x + rib.width / 2.0;
  if (!reading.new_name("rib", rib.name, record.place()) ||
      !reading.along_stations(rib.name, record.place("x"), from, to) ||
      !reading.below_roof(rib.name, record.place("to"), from, to, rib.to)) {
    return false;
  }
  const double wall = least_half_width(reading.vehicle(), rib.side, from, to, rib.from, rib.to);
  if (rib.depth < wall) return true;
  reading.report("vehicle.rib_too_deep", record.place("depth"), rib.name)
      .with("depth", rib.depth, Unit::mm)
      .with("wall", wall, Unit::mm);
  return false;
}

void add_arches(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const double from = record.number("from");
  const double to = record.number("to");
  const double height = record.number("height");
  const double radius = record.number("radius");
  if (!reading.rising(named, "from", "to") ||
      !reading.along_stations(named.name, record.place("from"), from, to) ||
      !reading.below_roof(named.name, record.place("height"), from, to, height)) {
    return;
  }
  const double largest = std::min(height, (to - from) / 2.0);
  if (radius > largest) {
    reading.report("vehicle.arch_radius", record.place("radius"), named.name)
        .with("radius", radius, Unit::mm)
        .with("largest", largest, Unit::mm);
    return;
  }
  const auto sides = sides_of(record);
  for (const VanSide side : sides) {
    WheelArch arch{copy_name(named, sides.size() > 1, side, 0, 1),
                   side,
                   from,
                   to,
                   height,
                   record.number("half_width"),
                   radius};
    const double wall = least_half_width(reading.vehicle(), side, from, to, 0.0, height);
    if (arch.half_width >= wall) {
      reading.report("vehicle.arch_behind_wall", record.place("half_width"), arch.name)
          .with("half_width", arch.half_width, Unit::mm)
          .with("wall", wall, Unit::mm);
    } else if (reading.new_name("arch", arch.name, record.place())) {
      reading.vehicle().arches.push_back(std::move(arch));
    }
  }
}

void add_opening(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const std::string& kind = record.text("kind");
  const bool rear = kind == "rear";
  if (rear == record.has("side")) {
    reading.report(rear ? "vehicle.rear_has_side" : "vehicle.opening_side", record.place(),
                   named.name);
    return;
  }
  Opening opening;
  opening.name = named.name;
  opening.kind = rear                ? OpeningKind::rear
                 : kind == "sliding" ? OpeningKind::sliding
                                     : OpeningKind::hinged;
  if (!rear) opening.side = record.text("side") == "left" ? VanSide::left : VanSide::right;
  opening.from = record.number("from");
  opening.to = record.number("to");
  opening.bottom = record.number("bottom");
  opening.top = record.number("top");
  if (!reading.rising(named, "from", "to") || !reading.rising(named, "bottom", "top")) return;
  const double x0 = rear ? reading.vehicle().x_min() : opening.from;
  const double x1 = rear ? reading.vehicle().x_min() : opening.to;
  if (!reading.along_stations(named.name, record.place("from"), x0, x1) ||
      !reading.below_roof(named.name, record.place("top"), x0, x1, opening.top)) {
    return;
  }
  reading.vehicle().openings.push_back(std::move(opening));
}

}  // namespace

RibList list_ribs(Reading& reading) {
  RibList list;
  const std::size_t before = reading.faults();
  list.tables = reading.records("rib");
  for (std::size_t i = 0; i < list.tables.size(); ++i) {
    const Named& named = list.tables[i];
    const int count = reading.copies(named);
    if (!reading.rising(named, "from", "to") || !section_good(reading, named)) continue;
    list_row(list, named, i, count);
  }
  list.complete = reading.faults() == before;
  return list;
}

void check_ribs(Reading& reading, const RibList& ribs) {
  for (const auto& [rib, table] : ribs.ribs) {
    if (good_rib(reading, rib, ribs.tables[table].record)) reading.vehicle().ribs.push_back(rib);
  }
}

void read_arches(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("arch")) {
    if (stations_good) add_arches(reading, named);
  }
}

void read_openings(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("opening")) {
    if (stations_good) add_opening(reading, named);
  }
}

}  // namespace ribbay::detail

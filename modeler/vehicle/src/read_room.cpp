#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>

/// What stands in the room: ribs, bows, wheel arches.
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

/// The rounded inboard edge must leave something of the top, out to the wall.
bool edge_fits(Reading& reading, const WheelArch& arch, double wall, const Record& record) {
  const double largest = std::min(arch.height, wall - arch.half_width);
  if (arch.edge_radius <= largest) return true;
  reading.report("vehicle.arch_edge", record.place("edge_radius"), arch.name)
      .with("radius", arch.edge_radius, Unit::mm)
      .with("largest", largest, Unit::mm);
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
                   radius,
                   record.number("edge_radius")};
    const double wall = least_half_width(reading.vehicle(), side, from, to, 0.0, height);
    if (arch.half_width >= wall) {
      reading.report("vehicle.arch_behind_wall", record.place("half_width"), arch.name)
          .with("half_width", arch.half_width, Unit::mm)
          .with("wall", wall, Unit::mm);
    } else if (edge_fits(reading, arch, wall, record) &&
               reading.new_name("arch", arch.name, record.place())) {
      reading.vehicle().arches.push_back(std::move(arch));
    }
  }
}

/// Gives a bow its ends and checks it against the roof.
bool place_bow(Reading& reading, Bow& bow, const Record& record) {
  const Vehicle& vehicle = reading.vehicle();
  const double x0 = bow.x - bow.width / 2.0;
  const double x1 = bow.x + bow.width / 2.0;
  if (!reading.along_stations(bow.name, record.place("x"), x0, x1)) return false;
  bow.from = -kFar;
  bow.to = kFar;
  Box roof;
  for (const Polygon3& part : bow_surface(vehicle, bow)) {
    for (const Vec3& p : part) roof.add(p);
  }
  if (roof.empty()) roof.add(Vec3{});  // walls that meet in a ridge leave no roof
  bow.from = std::max(roof.lo.y, record.number_if("from").value_or(roof.lo.y));
  bow.to = std::min(roof.hi.y, record.number_if("to").value_or(roof.hi.y));
  if (bow.to - bow.from < kContact) {
    reading
        .report("vehicle.bow_beside_roof", record.place(record.has("to") ? "to" : "from"), bow.name)
        .with("right", roof.lo.y, Unit::mm)
        .with("left", roof.hi.y, Unit::mm);
    return false;
  }
  if (bow.depth < roof.lo.z) return true;
  reading.report("vehicle.bow_too_deep", record.place("depth"), bow.name)
      .with("depth", bow.depth, Unit::mm)
      .with("roof", roof.lo.z, Unit::mm);
  return false;
}

void add_bows(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const int count = reading.copies(named);
  if (record.has("from") && record.has("to") && !reading.rising(named, "from", "to")) return;
  for (int i = 0; i < count; ++i) {
    Bow bow;
    bow.name = copy_name(named, false, VanSide::left, i, count);
    bow.x = record.number("x") + i * record.number_if("pitch").value_or(0.0);
    bow.width = record.number("width");
    bow.depth = record.number("depth");
    bow.steel = record.flag("steel");
    if (reading.new_name("bow", bow.name, record.place()) && place_bow(reading, bow, record)) {
      reading.vehicle().bows.push_back(std::move(bow));
    }
  }
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
    if (const auto last = named.record.number_if("last"); last && count > 0) {
      reading.vehicle().rib_rows.push_back({named.name, named.record.number("x"), count,
                                            named.record.number_if("pitch").value_or(0.0), *last});
    }
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

void read_bows(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("bow")) {
    if (stations_good) add_bows(reading, named);
  }
}

}  // namespace ribbay::detail

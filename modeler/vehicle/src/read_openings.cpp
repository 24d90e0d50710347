#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>

/// What opens the room or lies behind its walls: door openings, channels.
namespace ribbay::detail {

namespace {

/// Reads the door of an opening whose kind is known; false after a report.
bool read_leaf(Reading& reading, const Named& named, Opening& opening) {
  const bool slides = opening.kind == OpeningKind::sliding;
  opening.leaf.swing = slides ? LeafSwing::slides : LeafSwing::out;
  if (!named.record.has("leaf")) return true;
  const Record& record = named.record.table("leaf");
  opening.leaf.intrudes = record.number("intrudes");
  opening.leaf.clear_way = record.number("clear_way");
  if (!record.has("swing")) return true;
  const std::string& swing = record.text("swing");
  opening.leaf.swing = swing == "out"  ? LeafSwing::out
                       : swing == "in" ? LeafSwing::in
                                       : LeafSwing::slides;
  // A rear opening may have a shutter, so there everything goes.
  if (opening.kind == OpeningKind::rear || slides == (swing == "slides")) return true;
  reading.report("vehicle.leaf_swing", record.place("swing"), named.name)
      .with("kind", slides ? "sliding" : "hinged")
      .with("swing", swing);
  return false;
}

/// The closed door must leave some of the room, and so must the way through it.
bool leaf_fits(Reading& reading, const Opening& opening, const Record& record) {
  const Vehicle& vehicle = reading.vehicle();
  const bool rear = opening.kind == OpeningKind::rear;
  const double bottom = std::max(opening.bottom, 0.0);
  const double room = rear ? vehicle.x_max() - vehicle.x_min()
                           : least_half_width(vehicle, opening.side, opening.from, opening.to,
                                              bottom, std::max(bottom, opening.top));
  for (const auto& [field, value] : {std::pair{"intrudes", opening.leaf.intrudes},
                                     std::pair{"clear_way", opening.leaf.clear_way}}) {
    // The way may reach beyond the centre line, but not through the other wall.
    const double limit = rear || std::string_view(field) == "intrudes" ? room : 2.0 * room;
    if (value < limit) continue;
    reading.report("vehicle.leaf_too_deep", record.table("leaf").place(field), opening.name)
        .with("field", field)
        .with("measured", value, Unit::mm)
        .with("room", limit, Unit::mm);
    return false;
  }
  return true;
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
  if (!read_leaf(reading, named, opening)) return;
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
  if (leaf_fits(reading, opening, record)) {
    reading.vehicle().openings.push_back(std::move(opening));
  }
}

/// The access holes that lie in their channel; each other one is reported.
std::vector<AccessHole> access_holes(Reading& reading, const Named& named) {
  const Record& record = named.record;
  const double height = record.number("top") - record.number("bottom");
  std::vector<AccessHole> holes;
  for (const auto& [name, hole] : record.tables("holes")) {
    const AccessHole one{hole.number("x"), hole.number("width"), hole.number("height")};
    const double rear = one.x - one.width / 2.0;
    const double front = one.x + one.width / 2.0;
    if (rear < record.number("from") - kSame || front > record.number("to") + kSame ||
        one.height > height + kSame) {
      reading.report("vehicle.access_hole", hole.place(), named.name)
          .with("number", name)
          .with("rear", rear, Unit::mm)
          .with("front", front, Unit::mm)
          .with("height", one.height, Unit::mm)
          .with("from", record.number("from"), Unit::mm)
          .with("to", record.number("to"), Unit::mm)
          .with("room", height, Unit::mm);
      continue;
    }
    holes.push_back(one);
  }
  return holes;
}

void add_channel(Reading& reading, const Named& named) {
  const Record& record = named.record;
  if (!reading.rising(named, "from", "to") || !reading.rising(named, "bottom", "top")) return;
  Channel channel;
  channel.name = named.name;
  channel.side = record.text("side") == "left" ? VanSide::left : VanSide::right;
  channel.from = record.number("from");
  channel.to = record.number("to");
  channel.bottom = record.number("bottom");
  channel.top = record.number("top");
  channel.depth = record.number("depth");
  channel.holes = access_holes(reading, named);
  if (reading.along_stations(named.name, record.place("from"), channel.from, channel.to) &&
      reading.below_roof(named.name, record.place("top"), channel.from, channel.to, channel.top)) {
    reading.vehicle().channels.push_back(std::move(channel));
  }
}

}  // namespace

void read_openings(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("opening")) {
    if (stations_good) add_opening(reading, named);
  }
}

void read_channels(Reading& reading, bool stations_good) {
  for (const Named& named : reading.records("channel")) {
    if (stations_good) add_channel(reading, named);
  }
}

}  // namespace ribbay::detail

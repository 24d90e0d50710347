#include "concerned.hpp"

#include "open_parts.hpp"

#include <algorithm>
#include <numbers>

namespace ribbay::detail {

namespace {

const std::string* words(const Finding& finding, std::string_view name) {
  const Argument* argument = finding.argument(name);
  return argument == nullptr ? nullptr : std::get_if<std::string>(&argument->value);
}

/// A travel that a finding names: mm, or radians of what it tells in degrees.
double travel_in(const Finding& finding, std::string_view name) {
  const Argument* argument = finding.argument(name);
  const double* value = argument == nullptr ? nullptr : std::get_if<double>(&argument->value);
  if (value == nullptr) return 0.0;
  return argument->unit == Unit::degree ? *value * std::numbers::pi / 180.0 : *value;
}

const Motion* motion_of(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.motions, id, &Motion::id);
  return found == layout.motions.end() ? nullptr : &*found;
}

/// Everything that a motion takes along, open as far as the finding says.
void add_motion(Concerned& one, const Layout& layout, const Motion& motion, double by) {
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (part.kind == PartKind::hardware ||
        std::ranges::find(motion.parts, part.id) == motion.parts.end())
      continue;
    const Frame shut = frame_before(layout, motion, part);
    one.shut.push_back({i, shut});
    one.parts.push_back({i, moved(shut, motion, by)});
  }
}

std::string titled(const std::string& id, const std::string& title) {
  return title.empty() || title == id ? id : id + ": " + title;
}

/// Ribs and the like are drawn by themselves; walls, roof, floor and ends as a section of the room.
bool is_shell(const std::string& body) {
  for (const char* word : {"wall", "roof", "floor", "rear", "bulkhead"}) {
    if (body.starts_with("vehicle/" + std::string(word))) return true;
  }
  return body == "vehicle";
}

Concerned resolved(const Layout& layout, const std::string& subject, const std::string& motion,
                   double by) {
  Concerned one;
  if (const Motion* moves = motion_of(layout, motion)) {
    add_motion(one, layout, *moves, by);
    one.name = titled(subject, moves->title);
  } else if (const Part* part = layout.find(subject)) {
    one.parts.push_back({static_cast<std::size_t>(part - layout.parts.data()), part->frame});
    one.name = titled(subject, part->title);
  } else if (const Module* module = layout.module(subject)) {
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      if (layout.parts[i].module == subject && layout.parts[i].kind != PartKind::hardware)
        one.parts.push_back({i, layout.parts[i].frame});
    }
    one.name = titled(subject, module->title);
  } else if (layout.vehicle && subject.starts_with("vehicle")) {
    one.name = subject;
    one.shell = is_shell(subject);
    if (!one.shell) {
      one.van = vehicle_bodies(*layout.vehicle);
      std::erase_if(one.van, [&](const VehicleBody& body) { return body.id != subject; });
    }
  }
  for (const PlacedPart& p : one.parts) one.box.add(bounds(layout.parts[p.part].body(), p.frame));
  for (const VehicleBody& body : one.van) {
    for (const ConvexPiece& piece : body.pieces) {
      for (const Vec3 v : piece.vertices) one.box.add(v);
    }
  }
  return one;
}

}  // namespace

std::vector<Concerned> concerned_by(const Layout& layout, const Finding& finding) {
  std::vector<Concerned> all;
  const std::string* motion = words(finding, "motion");
  const bool pair = finding.argument("open_a") != nullptr && finding.argument("open_b") != nullptr;
  for (std::size_t i = 0; i < finding.subjects.size(); ++i) {
    const std::string& subject = finding.subjects[i];
    std::string moves;
    double by = 0.0;
    if (motion != nullptr && i == 0) {
      moves = *motion;
      by = travel_in(finding, "measured");
    } else if (motion_of(layout, subject) != nullptr) {
      moves = subject;
      if (pair) by = travel_in(finding, i == 0 ? "open_a" : "open_b");
    }
    Concerned one = resolved(layout, subject, moves, by);
    if (one.shell || !one.parts.empty() || !one.van.empty()) all.push_back(std::move(one));
  }
  if (const std::string* id = words(finding, "zone")) {
    const auto zone = std::ranges::find(layout.zones, *id, &Zone::id);
    if (zone != layout.zones.end()) {
      Concerned one;
      one.name = zone->title.empty() ? zone->id : zone->title;
      one.zone = &*zone;
      for (const FacetEdge& edge : placed(facets(zone->shape), zone->frame).edges) {
        one.box.add(edge.a);
        one.box.add(edge.b);
      }
      all.push_back(std::move(one));
    }
  }
  return all;
}

}  // namespace ribbay::detail

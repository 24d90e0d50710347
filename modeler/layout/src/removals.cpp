#include "layout/removals.hpp"

#include "base/text.hpp"
#include "catalogue/titles.hpp"

#include <algorithm>

namespace ribbay {

namespace {

void add_connections(const Equipment& item, std::vector<RemovalStep>& steps) {
  for (const Port& port : item.ports) {
    const std::string what = port.kind == port.name ? port.kind : port.kind + " " + port.name;
    steps.push_back({.act = RemovalAct::disconnect, .what = what});
  }
}

void add_fastener(const Layout& layout, const std::string& id, std::vector<RemovalStep>& steps) {
  const Part* part = layout.find(id);
  if (part == nullptr) return;
  const std::string what = stock_title(*layout.catalogue, part->stock.key);
  if (steps.empty() || steps.back().act != RemovalAct::undo || steps.back().what != what) {
    const auto bolt = layout.catalogue->bolts.find(part->stock.key);
    const bool known = bolt != layout.catalogue->bolts.end();
    steps.push_back({.what = what, .tool = known ? tool_for(bolt->second) : std::string()});
  }
  ++steps.back().count;
  steps.back().ids.push_back(id);
}

/// Slides that lock among what moves.
void add_locks(const Layout& layout, const Motion& motion, std::vector<RemovalStep>& steps) {
  const auto joint = std::ranges::find_if(layout.joints, [&](const Joint& each) {
    return std::ranges::any_of(each.hardware, [&](const std::string& id) {
      return std::ranges::find(motion.parts, id) != motion.parts.end();
    }) && std::ranges::any_of(each.hardware, [&](const std::string& id) {
      const Part* part = layout.find(id);
      if (part == nullptr) return false;
      const auto slide = layout.catalogue->slides.find(part->stock.key);
      return slide != layout.catalogue->slides.end() && slide->second.locks_in;
    });
  });
  if (joint == layout.joints.end()) return;
  for (const std::string& id : joint->hardware) {
    const auto slide = layout.catalogue->slides.find(layout.find(id)->stock.key);
    if (slide == layout.catalogue->slides.end()) continue;
    steps.push_back({.act = RemovalAct::release, .what = slide->second.title});
  }
}

}  // namespace

std::string tool_for(const Bolt& bolt) {
  if (bolt.kind == BoltKind::wood) return "screwdriver";
  if (bolt.spanner <= 0.0) return {};
  return (has_socket(bolt) ? "hexagon key " : "spanner ") + rounded_text(bolt.spanner, 1) + " mm";
}

bool has_socket(const Bolt& bolt) {
  // A hexagon socket is at most this share of its head.
  constexpr double kSocketShare = 0.8;
  return bolt.spanner < kSocketShare * bolt.head_diameter;
}

std::string_view name(RemovalAct act) {
  switch (act) {
    case RemovalAct::disconnect:
      return "disconnect";
    case RemovalAct::undo:
      return "undo";
    case RemovalAct::release:
      return "release by hand";
    case RemovalAct::bring_out:
      return "bring out";
    case RemovalAct::take_out:
      break;
  }
  return "take out";
}

std::vector<RemovalStep> removal_steps(const Layout& layout, const Removal& removal) {
  std::vector<RemovalStep> steps;
  const Part* part = layout.find(removal.id);
  if (part == nullptr || !layout.catalogue) return steps;
  const auto item = layout.catalogue->equipment.find(part->stock.key);
  if (item != layout.catalogue->equipment.end()) add_connections(item->second, steps);
  for (const std::string& id : removal.undo) add_fastener(layout, id, steps);
  const auto motion = std::ranges::find(layout.motions, removal.after, &Motion::id);
  if (motion != layout.motions.end()) {
    add_locks(layout, *motion, steps);
    steps.push_back({.act = RemovalAct::bring_out,
                     .what = motion->title,
                     .direction = motion->axis,
                     .travel = motion->travel});
  }
  if (removal.fasteners > 0) {
    steps.push_back({.what = "its own fixings", .count = removal.fasteners, .tool = removal.tool});
  }
  std::vector<std::string> ids{removal.id};
  ids.insert(ids.end(), removal.along.begin(), removal.along.end());
  steps.push_back({.act = RemovalAct::take_out,
                   .what = part->title,
                   .ids = std::move(ids),
                   .direction = removal.direction,
                   .travel = removal.travel});
  return steps;
}

std::vector<const Removal*> equipment_removals(const Layout& layout) {
  std::vector<const Removal*> removals;
  for (const Removal& removal : layout.removals) {
    const Part* part = layout.find(removal.id);
    if (part != nullptr && part->kind == PartKind::equipment) removals.push_back(&removal);
  }
  return removals;
}

}  // namespace ribbay

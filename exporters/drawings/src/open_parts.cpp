#include "open_parts.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

/// `v` turned by `angle` about the unit vector `axis`: Rodrigues' formula.
Vec3 turned(Vec3 v, Vec3 axis, double angle) {
  return v * std::cos(angle) + cross(axis, v) * std::sin(angle) +
         axis * (dot(axis, v) * (1.0 - std::cos(angle)));
}

Frame at_end(const Frame& frame, const Motion& m) {
  if (m.kind == MotionKind::translation) {
    return {frame.origin + m.axis * m.travel, frame.x, frame.y, frame.z};
  }
  return {m.origin + turned(frame.origin - m.origin, m.axis, m.travel),
          turned(frame.x, m.axis, m.travel), turned(frame.y, m.axis, m.travel),
          turned(frame.z, m.axis, m.travel)};
}

/// The motions that come one after another, the first one first, ending with `last`.
std::vector<const Motion*> row_of(const Layout& layout, const Motion& last) {
  std::vector<const Motion*> row{&last};
  while (!row.front()->after.empty() && row.size() <= layout.motions.size()) {
    const auto before = std::ranges::find(layout.motions, row.front()->after, &Motion::id);
    if (before == layout.motions.end()) break;
    row.insert(row.begin(), &*before);
  }
  return row;
}

}  // namespace

std::vector<OpenPart> open_parts(const Layout& layout, const ModuleContents& contents) {
  std::vector<std::size_t> mine = contents.movable;
  mine.insert(mine.end(), contents.equipment.begin(), contents.equipment.end());
  std::ranges::sort(mine);
  std::set<std::string> begun;  // motions that another one follows
  for (const Motion& m : layout.motions) begun.insert(m.after);
  std::vector<OpenPart> open;
  for (const Motion& last : layout.motions) {
    if (begun.contains(last.id)) continue;
    const auto row = row_of(layout, last);
    for (const std::size_t i : mine) {
      const Part& part = layout.parts[i];
      if (part.kind == PartKind::hardware) continue;
      OpenPart moved{i, nullptr, part.frame};
      for (const Motion* m : row) {
        if (std::ranges::find(m->parts, part.id) == m->parts.end()) continue;
        moved.frame = at_end(moved.frame, *m);
        moved.motion = m;
      }
      if (moved.motion != nullptr) open.push_back(moved);
    }
  }
  return open;
}

SceneBodies scene_of(const Layout& layout, const std::vector<OpenPart>& parts, double scale) {
  std::vector<PlacedPart> placed;
  for (const OpenPart& p : parts) placed.push_back({p.part, p.frame});
  return scene_of(layout, placed, scale);
}

}  // namespace ribbay::detail

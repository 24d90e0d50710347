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

bool takes_along(const Motion& motion, const Part& part) {
  return std::ranges::find(motion.parts, part.id) != motion.parts.end();
}

}  // namespace

Frame moved(const Frame& frame, const Motion& m, double by) {
  if (m.kind == MotionKind::translation) {
    return {frame.origin + m.axis * by, frame.x, frame.y, frame.z};
  }
  return {m.origin + turned(frame.origin - m.origin, m.axis, by), turned(frame.x, m.axis, by),
          turned(frame.y, m.axis, by), turned(frame.z, m.axis, by)};
}

Frame frame_before(const Layout& layout, const Motion& motion, const Part& part) {
  Frame frame = part.frame;
  for (const Motion* m : row_of(layout, motion)) {
    if (m != &motion && takes_along(*m, part)) frame = moved(frame, *m, m->travel);
  }
  return frame;
}

std::vector<OpenPart> open_parts(const Layout& layout, const ModuleContents& contents) {
  std::vector<std::size_t> mine = contents.made;
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
      OpenPart open_part{i, nullptr, part.frame};
      for (const Motion* m : row) {
        if (!takes_along(*m, part)) continue;
        open_part.frame = moved(open_part.frame, *m, m->travel);
        open_part.motion = m;
      }
      if (open_part.motion != nullptr) open.push_back(open_part);
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

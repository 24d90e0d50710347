#include "drawings/face_note.hpp"

#include "base/ways.hpp"
#include "base/wording.hpp"
#include "layout/front.hpp"

#include <cmath>

namespace ribbay {

namespace {

/// By the module's own sides, as the van's are by its own: ahead, to the left, up. What is bent
/// looks there where most of it does.
std::string way_by(const Layout& layout, const PartType& type, Vec3 direction, bool own) {
  std::string found;
  for (const std::size_t i : type.parts) {
    const Part& part = layout.parts[i];
    const Module* module = layout.module(part.module);
    if (!module) return "";
    const Vec3 front = own ? front_way(module->front) : Vec3{1, 0, 0};
    const Vec3 left = cross(own ? Vec3{0, 0, -1} : Vec3{0, 0, 1}, front);
    const Vec3 look = part.frame.direction(direction);
    const Vec3 seen{dot(look, front), dot(look, left), look.z};
    const double square = part.flat ? 0.9 : 0.999;
    Vec3 main;
    for (int axis = 0; axis < 3; ++axis) {
      if (std::abs(seen[axis]) > square) main[axis] = seen[axis] > 0.0 ? 1.0 : -1.0;
    }
    if (dot(main, main) == 0.0) return "";
    const std::string way = van_way_text(main);
    if (!found.empty() && found != way) return "";
    found = way;
  }
  return found;
}

}  // namespace

std::string way_text(const Layout& layout, const PartType& type, Vec3 direction) {
  const std::string own = way_by(layout, type, direction, true);
  const std::string van = way_by(layout, type, direction, false);
  return own.empty() || van.empty() || van == own ? own
                                                  : say("way.in_van", {{"way", own}, {"van", van}});
}

std::string face_note(const Layout& layout, const PartType& type, const PanelStudy& panel) {
  const std::string way = way_text(layout, type, panel.view.towards_eye());
  std::string note = way.empty() ? say("note.panel_face") : say("note.panel_way", {{"way", way}});
  if (panel.up == PanelUp::up) note += " " + say("note.pose_up");
  const Module* module = layout.module(layout.parts[type.parts.front()].module);
  if (panel.up == PanelUp::behind && module != nullptr)
    note += " " + say("note.pose_front", {{"way", van_way_text(front_way(module->front))}});
  return note;
}

}  // namespace ribbay

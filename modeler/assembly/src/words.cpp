#include "assembly/words.hpp"

#include "base/wording.hpp"
#include "catalogue/titles.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

Names::Names(const Layout& layout) : Names(layout, part_types(layout)) {}

Names::Names(const Layout& layout, const std::vector<PartType>& types) : layout_(layout) {
  for (const PartType& type : types) {
    for (const std::size_t part : type.parts) marks_[layout.parts[part].id] = type.mark;
  }
}

std::string Names::mark(const std::string& part) const {
  const auto found = marks_.find(part);
  return found == marks_.end() ? std::string() : found->second;
}

std::string Names::part(const std::string& id) const {
  return layout_.find(id) == nullptr ? id : brief(id) + " (" + id + ")";
}

std::string Names::brief(const std::string& id) const {
  const Part* found = layout_.find(id);
  if (found == nullptr) return id;
  const std::string letters = mark(id);
  return found->title + (letters.empty() ? "" : " " + letters);
}

std::vector<std::string> Names::counted(const std::vector<std::string>& ids) const {
  std::map<std::string, int> by_title;
  for (const std::string& id : ids) {
    const Part* part = layout_.find(id);
    if (part == nullptr || part->stock.key.empty()) continue;
    ++by_title[stock_title(*layout_.catalogue, part->stock.key)];
  }
  std::vector<std::string> texts;
  for (const auto& [title, count] : by_title)
    texts.push_back(std::to_string(count) + " x " + title);
  return texts;
}

std::vector<std::string> ids_of(const std::vector<Driven>& fasteners) {
  std::vector<std::string> all;
  for (const Driven& each : fasteners) all.push_back(each.id);
  return all;
}

std::vector<std::string> tools(const std::vector<Driven>& fasteners) {
  std::map<std::string, int> by_tool;
  for (const Driven& each : fasteners) {
    std::string text = each.tool.empty() ? say("tool.unknown") : each.tool;
    if (each.reach == Reach::arm) text = say("tool.from_side", {{"tool", text}});
    if (each.reach == Reach::leaning) text = say("tool.leaning", {{"tool", text}});
    if (each.reach == Reach::none) text = say("tool.no_room", {{"tool", text}});
    ++by_tool[text];
  }
  std::vector<std::string> texts;
  for (const auto& [tool, count] : by_tool)
    texts.push_back(tool + " (" + std::to_string(count) + ")");
  return texts;
}

namespace {

/// True of what lies on rails, and neither hardware nor glue nor a groove holds. What another
/// module fixes to it holds that one.
bool only_lies(const Layout& layout, const std::string& id) {
  const std::string& module = layout.find(id)->module;
  const auto among = [&](const std::vector<std::string>& ids) {
    return std::ranges::find(ids, id) != ids.end();
  };
  bool lies = false;
  for (const Joint& joint : layout.joints) {
    if (!among(joint.parts) || !joint.id.starts_with(module + "/")) continue;
    if (joint.kind != "panel on rails" || joint.parts.front() != id || !joint.hardware.empty())
      return false;
    lies = true;
  }
  return lies && std::ranges::none_of(layout.parts, [&](const Part& part) {
           return part.module == module && among(part.hosts);
         });
}

}  // namespace

std::string holding(const Layout& layout, const AssemblyStep& step) {
  if (step.held)
    return step.parts.size() == 1 && only_lies(layout, step.parts.front()) ? say("step.lies")
                                                                           : std::string();
  const bool equipment = layout.find(step.parts.front())->kind == PartKind::equipment;
  if (equipment) return say("step.fix_equipment");
  if (!step.glued.empty()) return say("step.clamp_glue");
  return say(step.held_later ? "step.prop" : "step.prop_alone");
}

std::string lifting_rule(const Layout& layout) {
  const double most = layout.project.one_person_lifts;
  const std::string reference = "the reference mass of ISO 11228-1";
  return "One person lifts at most " + rounded_text(most, 1) + " kg alone, " +
         (most == kReferenceMass ? reference
                                 : "as [project] one_person_lifts says; " + reference + " is " +
                                       rounded_text(kReferenceMass, 1) + " kg");
}

std::string people(const std::optional<Lift>& lift) {
  if (!lift) return say("lift.one");
  return say(lift->beyond_two ? "lift.more" : "lift.two");
}

std::vector<std::string> lift_lines(const Layout& layout, const Lift& lift,
                                    std::optional<Vec3> front) {
  const auto mm = [&](double length) {
    return value_text(std::round(length), Unit::mm, layout.project.show);
  };
  const Vec3 ahead = front.value_or(Vec3{1, 0, 0});
  const auto end_name = [&](Vec3 side) {
    const double forward = dot(side, ahead);
    if (forward > 0.5) return "front";
    if (forward < -0.5) return front ? "back" : "rear";
    // Who stands before a front has its left where the thing's right is when one drives along.
    const double left = dot(side, cross({0, 0, 1}, ahead)) * (front ? -1.0 : 1.0);
    return left > 0.0 ? "left" : "right";
  };
  const auto end = [&](const LiftedEnd& each) {
    return std::string(end_name(each.side)) + " end takes " + rounded_text(each.mass_kg, 1) + " kg";
  };
  const LiftedEnd& low = lift.ends.front();
  std::vector<std::string> lines{
      "carry it at both ends: the " + end(low) + ", the " + end(lift.ends.back()),
      "its centre of mass lies " + mm(low.from_centre) + " from the " + end_name(low.side) +
          " end and " + mm(lift.above_foot) + " above its foot: hold it no lower than that"};
  if (!lift.handles.empty()) lines.push_back("its handles: " + join(lift.handles, ", "));
  if (lift.moving) lines.emplace_back("by its frame: drawers, doors and lids open; tie them shut");
  if (lift.beyond_two)
    lines.push_back("one end alone is more than the " +
                    rounded_text(layout.project.one_person_lifts, 1) +
                    " kg that one person lifts: more people, or a lift");
  return lines;
}

}  // namespace ribbay

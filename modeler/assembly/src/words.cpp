#include "assembly/words.hpp"

#include "catalogue/titles.hpp"

namespace ribbay {

Names::Names(const Layout& layout) : layout_(layout) {
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) marks_[layout.parts[part].id] = type.mark;
  }
}

std::string Names::mark(const std::string& part) const {
  const auto found = marks_.find(part);
  return found == marks_.end() ? std::string() : found->second;
}

std::string Names::part(const std::string& id) const {
  const Part* found = layout_.find(id);
  if (found == nullptr) return id;
  const std::string letters = mark(id);
  return found->title + (letters.empty() ? "" : " " + letters) + " (" + id + ")";
}

std::vector<std::string> Names::counted(const std::vector<std::string>& ids) const {
  std::map<std::string, int> by_title;
  for (const std::string& id : ids) {
    const Part* part = layout_.find(id);
    if (part == nullptr) continue;
    ++by_title[part->stock.key.empty() ? part->title
                                       : stock_title(*layout_.catalogue, part->stock.key)];
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
    std::string text = each.tool.empty() ? "tool not known" : each.tool;
    if (each.reach == Reach::arm) text += ", from the side";
    if (each.reach == Reach::leaning) text += ", its ball end, leaning";
    if (each.reach == Reach::none) text += ", NO ROOM FOR IT";
    ++by_tool[text];
  }
  std::vector<std::string> texts;
  for (const auto& [tool, count] : by_tool)
    texts.push_back(tool + " (" + std::to_string(count) + ")");
  return texts;
}

std::string holding(const Layout& layout, const AssemblyStep& step) {
  if (step.held) return {};
  return layout.find(step.parts.front())->kind == PartKind::equipment
             ? "no joint holds it: fix it as its maker says, so that it bears a crash"
             : "nothing holds it yet: clamp it or prop it up until the next steps do";
}

std::string people(double mass_kg) {
  return mass_kg > kOnePersonLifts ? "two people or a prop" : "one person";
}

}  // namespace ribbay

#include "words.hpp"

#include "base/text.hpp"
#include "catalogue/titles.hpp"
#include "worksteps/worksteps.hpp"

namespace ribbay::detail {

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

std::string Names::counted(const std::vector<std::string>& ids) const {
  std::map<std::string, int> by_title;
  for (const std::string& id : ids) {
    const Part* part = layout_.find(id);
    if (part == nullptr) continue;
    ++by_title[part->stock.key.empty() ? part->title
                                       : stock_title(*layout_.catalogue, part->stock.key)];
  }
  std::vector<std::string> texts;
  for (const auto& [title, count] : by_title) texts.push_back(std::to_string(count) + " x " + title);
  return join(texts, "; ");
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
  for (const auto& [tool, count] : by_tool) texts.push_back(tool + " (" + std::to_string(count) + ")");
  return texts;
}

std::string people(double mass_kg) {
  return mass_kg > kOnePersonLifts ? "two people or a prop" : "one person";
}

}  // namespace ribbay::detail

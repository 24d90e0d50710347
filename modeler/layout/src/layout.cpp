#include "layout/layout.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

std::string_view name(PartKind kind) {
  switch (kind) {
    case PartKind::member:
      return "member";
    case PartKind::panel:
      return "panel";
    case PartKind::plank:
      return "plank";
    case PartKind::folded:
      return "folded part";
    case PartKind::hardware:
      return "hardware";
    case PartKind::equipment:
      return "equipment";
  }
  return "part";
}

const Part* Layout::find(std::string_view part_id) const {
  const auto found = std::ranges::lower_bound(parts, part_id, {}, &Part::id);
  return found != parts.end() && found->id == part_id ? &*found : nullptr;
}

const Module* Layout::module(std::string_view module_name) const {
  const auto found = std::ranges::find(modules, module_name, &Module::name);
  return found == modules.end() ? nullptr : &*found;
}

bool is_made(PartKind kind) {
  return kind != PartKind::hardware && kind != PartKind::equipment;
}

bool is_bought(const Part& part) {
  return !is_made(part.kind) && !part.stock.key.empty();
}

Box bounds(const Part& part) {
  return bounds(part.body(), part.frame);
}

std::vector<PartType> part_types(const Layout& layout) {
  std::vector<PartType> types;
  for (const auto& [kind, letter] :
       {std::pair{PartKind::member, 'M'}, std::pair{PartKind::panel, 'P'},
        std::pair{PartKind::plank, 'B'}, std::pair{PartKind::folded, 'F'}}) {
    std::map<std::string, std::size_t> known;  // stock and shape -> index into types
    int next = 1;
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      const Part& part = layout.parts[i];
      if (part.kind != kind) continue;
      const auto [at, fresh] = known.emplace(part.stock.key + "|" + key(*part.shape), types.size());
      if (fresh) types.push_back({letter + std::to_string(next++), {}});
      types[at->second].parts.push_back(i);
    }
  }
  return types;
}

MassSummary mass_summary(const Layout& layout) {
  MassSummary sum;
  for (const Part& part : layout.parts) {
    sum.mass_kg += part.mass_kg;
    sum.centre = sum.centre + part.frame.point(centroid(*part.shape)) * part.mass_kg;
  }
  if (sum.mass_kg > 0.0) sum.centre = sum.centre * (1.0 / sum.mass_kg);
  return sum;
}

}  // namespace ribbay

#include "product_tree.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <tuple>

namespace ribbay::detail {

namespace {

/// Names handed out so far: a second use of a name gets a number behind it.
class Names {
 public:
  std::string unique(const std::string& wanted) {
    std::string name = wanted;
    for (int n = 2; !taken_.insert(name).second; ++n)
      name = wanted + " (" + std::to_string(n) + ")";
    return name;
  }

 private:
  std::set<std::string> taken_;
};

/// The mark of each part, empty for bought ones.
std::vector<std::string> marks(const Layout& layout) {
  std::vector<std::string> result(layout.parts.size());
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) result[part] = type.mark;
  }
  return result;
}

std::string first_of(std::initializer_list<std::string_view> candidates) {
  const auto* found =
      std::ranges::find_if(candidates, [](std::string_view s) { return !s.empty(); });
  return found == candidates.end() ? "unnamed" : std::string(*found);
}

ModuleNode& node_of(const Layout& layout, const std::string& module,
                    std::vector<ModuleNode>& nodes) {
  const auto found = std::ranges::find(nodes, module, &ModuleNode::id);
  if (found != nodes.end()) return *found;
  const Module* known = layout.module(module);
  nodes.push_back({module, first_of({known == nullptr ? "" : known->title, module}), {}});
  return nodes.back();
}

}  // namespace

ProductTree product_tree(const Layout& layout, const SolidSet& solids, const StepOptions& options) {
  ProductTree tree;
  Names names;
  tree.name = names.unique(first_of({layout.project.title, layout.project.name, "layout"}));
  const std::vector<std::string> mark = marks(layout);
  using Made = std::tuple<const Solid*, std::string, std::string, std::string>;
  std::map<Made, std::size_t> known;  // looked up only: it is sorted by address
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (solids.of(i) == nullptr || (!options.module.empty() && part.module != options.module))
      continue;
    const auto [made, fresh] = known.try_emplace(
        {solids.of(i), part.stock.key, part.material, part.colour}, tree.products.size());
    if (fresh) {
      const std::string title = first_of({part.title, part.stock.key, part.id});
      tree.products.push_back({names.unique(mark[i].empty() ? title : mark[i] + " " + title),
                               solids.of(i), part.material, part.colour});
    }
    node_of(layout, part.module, tree.modules)
        .instances.push_back({part.id, made->second, part.frame});
  }
  for (ModuleNode& module : tree.modules) module.name = names.unique(module.name);
  return tree;
}

}  // namespace ribbay::detail

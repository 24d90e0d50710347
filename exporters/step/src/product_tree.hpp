#pragma once

#include "layout/layout.hpp"
#include "solids/solid_set.hpp"
#include "step/step.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace ribbay::detail {

/// One part made (or bought) once and placed often.
struct Product {
  std::string name;  ///< unique in the file
  const Solid* solid = nullptr;
  std::string material;  ///< catalogue key
  std::string colour;    ///< "#rrggbb"
};

/// A placed product.
struct Instance {
  std::string id;           ///< of the part
  std::size_t product = 0;  ///< index into ProductTree::products
  Frame frame;              ///< product to van
};

struct ModuleNode {
  std::string id;    ///< name of the module
  std::string name;  ///< its product name, unique in the file
  std::vector<Instance> instances;
};

/// What a STEP file shows of a layout: project > modules > instances.
struct ProductTree {
  std::string name;
  std::vector<Product> products;
  std::vector<ModuleNode> modules;
};

ProductTree product_tree(const Layout& layout, const SolidSet& solids, const StepOptions& options);

}  // namespace ribbay::detail

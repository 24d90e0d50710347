#pragma once

#include "page_set.hpp"

#include <map>
#include <string>
#include <vector>

namespace ribbay::detail {

/// What a module consists of; indices into Layout::parts.
struct ModuleContents {
  std::vector<std::size_t> made;     ///< members, panels and hardware
  std::vector<std::size_t> fixed;    ///< those of them that stay where they are
  std::vector<std::size_t> movable;  ///< parts of drawers and doors
  std::vector<std::size_t> equipment;
  Box box;  ///< of members and panels
};
ModuleContents contents_of(const Layout& layout, const Module& module);

/// The mark of each made part.
std::map<std::size_t, std::string> marks_of(const PageSet& set);

/// Which edge of a part gives its position.
enum class Edge { lower, upper };

/// Positions along `axis` (van axes) that place the parts of a module: one edge of every fixed part
/// that stands across the axis, and of fronts that stand across `depth`, the axis of sight. At most
/// `most`: the ones that carry most material. A panel that lies on another part gets none, since
/// that part's position and its own thickness say all.
std::vector<double> stations(const Layout& layout, const ModuleContents& contents, Vec3 axis,
                             Vec3 depth, Edge edge, std::size_t most);

}  // namespace ribbay::detail

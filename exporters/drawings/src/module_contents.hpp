#pragma once

#include "page_set.hpp"

#include <map>
#include <string>
#include <vector>

namespace ribbay::detail {

/// What a module consists of; indices into Layout::parts.
struct ModuleContents {
  std::vector<std::size_t> made;       ///< members, panels and hardware
  std::vector<std::size_t> fixed;      ///< those of them that stay where they are; where most of it
                                       ///< moves, all of them
  std::vector<std::size_t> movable;    ///< the rest: parts of drawers and doors
  std::vector<std::size_t> equipment;  ///< empty when it is all that there is: then it is `fixed`
  Box box;  ///< of what is made from stock; of everything when there is no such part
};
ModuleContents contents_of(const Layout& layout, const Module& module);

/// The mark of each made part.
std::map<std::size_t, std::string> marks_of(const PageSet& set);

/// Item references of what a module buys, "1", "2", ... by stock key; keys rise with them.
std::map<std::string, std::string> bought_references(const Layout& layout, const Module& module);

/// What balloons on a module's drawing say, by index into Layout::parts: marks of made parts, item
/// references of bought ones.
std::map<std::size_t, std::string> references_of(const PageSet& set, const Module& module);

/// Which edge of a part gives its position.
enum class Edge { lower, upper };

/// Positions along `axis` (van axes) that place the parts of a module: one edge of every fixed part
/// that stands across the axis, and of fronts that stand across `depth`, the axis of sight. A panel
/// that lies on another part gets none, since that part's position and its own thickness say all.
/// Rising.
std::vector<double> stations(const Layout& layout, const ModuleContents& contents, Vec3 axis,
                             Vec3 depth, Edge edge);

}  // namespace ribbay::detail

#pragma once

#include "kind.hpp"

#include <functional>
#include <optional>
#include <string>

namespace ribbay::detail {

/// A module named by another one's place.
struct Relation {
  std::string field;  ///< "on", "behind", ...
  std::string other;  ///< the module named
  std::string side;   ///< of it: "top", "rear", ...
  Place place;
};

/// What placing a module needs besides its own fields.
struct PlacementContext {
  Evaluator& evaluator;
  const Vehicle& vehicle;
  const Catalogue& catalogue;
  std::string module;
  const Kind& kind;
  int copy = 1;  ///< of a repeated module, from 1
  /// A side of the module that another one's place names, or nullopt when that failed and was
  /// reported.
  std::function<std::optional<double>(const Relation& relation)> side_of;
  std::function<void(Finding)> report;
};

/// Resolves the sizes of a module and where it stands, in that order: heights and lengths along the
/// van first, then the width between walls, which depends on them. Nullopt when something failed
/// and was reported. The envelope is in van axes.
std::optional<Box> place_module(const PlacementContext& context);

/// Frame of a module whose front looks `faces` and whose envelope is `box`: origin at the lower
/// left front corner, x to the right as seen from in front, y to the back, z up.
Frame module_frame(const Box& envelope, std::string_view faces);

/// Width, depth and height of an envelope for a module that looks `faces`.
Vec3 module_size(const Box& envelope, std::string_view faces);

}  // namespace ribbay::detail

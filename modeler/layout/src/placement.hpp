#pragma once

#include "kind.hpp"

#include <optional>

namespace ribbay::detail {

/// What placing a module needs besides its own fields.
struct PlacementContext {
  Evaluator& evaluator;
  const Vehicle& vehicle;
  const Catalogue& catalogue;
  std::string module;
  const Kind& kind;
  /// Top of another module, or nullopt when that failed (already reported).
  std::function<std::optional<double>(const std::string& module)> top_of;
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

#pragma once

#include "layout/layout.hpp"
#include "solids/solid.hpp"

#include <optional>
#include <vector>

namespace ribbay {

/// The solids of a layout: one for each distinct shape, shared by all the parts that have it.
struct SolidSet {
  std::vector<Solid> solids;  ///< in the order of the first part that has each
  std::vector<std::optional<std::size_t>>
      of_part;  ///< for each part of the layout, an index into
                ///< `solids`; empty when its shape gives no solid

  const Solid* of(std::size_t part) const {
    return of_part[part] ? &solids[*of_part[part]] : nullptr;
  }
};

/// Builds the solid of every distinct shape once, on up to `jobs` threads; the result does not
/// depend on their number. A shape that gives no solid is reported once, with all the parts that
/// have it as subjects, and its parts are left without one.
Built<SolidSet> make_solids(const Layout& layout, int jobs = 1, const SolidOptions& options = {});

}  // namespace ribbay

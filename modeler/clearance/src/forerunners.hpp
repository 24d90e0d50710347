#pragma once

#include "movers.hpp"

#include <functional>
#include <optional>
#include <vector>

/// A motion that comes after others begins where they have left things.
namespace ribbay::detail {

/// The motions that come before it, the nearest first. None where they go in a circle: such a
/// motion is judged where everything is laid out.
std::vector<const Motion*> motions_before(const Layout& layout, const Motion& motion);

/// Where a motion begins.
struct Start {
  std::optional<Scene> later;  ///< when those before it have gone their way; nullopt: as laid out
  Motion motion;               ///< with its axis as it is then
  const Motion* held = nullptr;  ///< the nearest before it that has not gone all its way
  double held_at = 0.0;          ///< how far that one has gone: mm, or radians

  const Scene& scene(const Scene& laid_out) const { return later ? *later : laid_out; }
};

/// How far a motion goes: mm, or radians.
using Gone = std::function<double(const Motion&)>;

/// The start of `motion` when each that comes before it has gone as far as `gone` says. Axes are
/// stated for when those have gone all their way: an axis goes along with what its motion moves
/// where all of that has stayed behind alike.
Start start_of(const Scene& laid_out, const Motion& motion, const Gone& gone);

}  // namespace ribbay::detail

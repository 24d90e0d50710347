#pragma once

#include "bodies.hpp"
#include "clearance/nearest.hpp"

#include <limits>
#include <optional>

/// How near a body comes to another on its way.
namespace ribbay::detail {

/// Measured on pieces that may reach beyond the true shapes by their `excess`: the true distance lies
/// between `nearest.distance` and `most`, give or take kOnWay.
struct WayGap {
  NearestOnWay nearest;
  double most = std::numeric_limits<double>::infinity();
};

/// The least distance on the way over `travel`; nullopt when it exceeds `within`. Arcs are covered
/// finer until it is clear on which side of `within` it lies, or it cannot be told.
std::optional<WayGap> way_gap(const Body& a, const Body& b, const Motion& motion, double travel,
                              double within);

}  // namespace ribbay::detail

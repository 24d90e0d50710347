#pragma once

#include "bodies.hpp"

#include <optional>
#include <string>

namespace ribbay::detail {

/// Which finishes make two clashing bodies clash, for people: "Paint, white, 0.2 mm on rack/shelf".
/// Nullopt when they would clash without any.
std::optional<std::string> finishes_at_fault(const Scene& scene, const Body& a, const Body& b);

}  // namespace ribbay::detail

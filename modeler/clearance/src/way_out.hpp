#pragma once

#include "bodies.hpp"
#include "clearance/clearance.hpp"

#include <cstddef>

namespace ribbay::detail {

/// True when moving body `a` out of a clash with `other` by the contact's depth runs into nothing
/// that it does not cut already. `other` is null for a zone.
bool way_is_free(const Scene& scene, std::size_t a, const Body* other, const Contact& clash);

}  // namespace ribbay::detail

#pragma once

#include "certificate.hpp"
#include "instance.hpp"

namespace ribbay::detail {

/// Above this many sizes no linear program is asked about all of them.
inline constexpr std::size_t kMostSizes = 250;

/// A certificate for an order of very many sizes: neighbours in size are taken to be as short as
/// the shortest of them, which makes nothing dearer.
Certificate coarse_certificate(const Instance& instance, Effort& effort);

}  // namespace ribbay::detail

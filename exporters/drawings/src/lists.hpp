#pragma once

#include "page_set.hpp"

namespace ribbay::detail {

/// Parts list of a module: the fields of ISO 7573 (from memory).
Table parts_list(const PageSet& set, const Module& module);
/// Bought things of a module, counted by stock key.
Table bought_list(const PageSet& set, const Module& module);

}  // namespace ribbay::detail

#pragma once

#include "layout/project.hpp"

namespace ribbay::detail {

/// Reads from what was read before: the files may have changed meanwhile.
ReadFile reader_of(const Inputs& inputs);

}  // namespace ribbay::detail

#pragma once

#include "kind.hpp"

namespace ribbay::detail {

/// Judges what only magnets carry, by what it weighs with its finishes.
void judge_hung(ModuleParts& made);

}  // namespace ribbay::detail

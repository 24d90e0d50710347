#pragma once

#include "catalogue/catalogue.hpp"

namespace ribbay {

/// True of the hole at the far end of a stay: it goes to what the stay holds open, at a place that its
/// maker tells and no layout knows.
inline bool is_far_end(const FixingHole& hole) { return hole.name == "head"; }

}  // namespace ribbay

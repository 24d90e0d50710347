#pragma once

#include "cutplans/shop_cuts.hpp"

#include <string>

namespace ribbay::detail {

/// shop/bars-proof.json: for each profile or plank `stock`, `bars`, `proven` and `proof`, as
/// BarsProof; lengths in 0.01 mm.
std::string proofs_json(const std::vector<StockPlan>& plans);

}  // namespace ribbay::detail

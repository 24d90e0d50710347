#pragma once

#include "cutplans/cut_orders.hpp"

#include <string>

namespace ribbay {

/// The plans as JSON, lengths in mm: `pieces` (how many), `bars` or `sheets` (how many are used),
/// `bound` and `bound_of` ("bars", "sheets" or "cost": how many where all stock costs the same),
/// `proven`, `cost`, `cost_bound`, `cost_unit`, `waste`, `waste_unit` ("mm" or "mm2") and
/// `plans[]`, which have their cuts; for bars also `proofs[]`, one for each order, as BarsProof.
std::string cut_json(const CutOrders& orders, const CutPlans& plans);

}  // namespace ribbay

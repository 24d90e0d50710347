#pragma once

#include "base/text.hpp"
#include "cutplans/cut_orders.hpp"

#include <string>

namespace ribbay {

/// The plans as tables that a person can saw from, one for each way to cut a bar or a sheet, and
/// what is known about better plans.
std::string cut_text(const CutOrders& orders, const CutPlans& plans, LengthStyle show);

}  // namespace ribbay

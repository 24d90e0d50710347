#pragma once

#include "layout/screw_hold.hpp"

#include <string>

/// Metric threads that the shop cuts.
namespace ribbay::detail {

/// Drill for tapping a thread, mm: its diameter less its pitch (common practice, no source).
double tapping_drill(double diameter);

/// What a thread of this diameter is called, "M8".
std::string thread_name(double diameter);

/// The metric thread whose tapping drill a core bore is, "M8".
std::string thread_of(double core_bore);

}  // namespace ribbay::detail

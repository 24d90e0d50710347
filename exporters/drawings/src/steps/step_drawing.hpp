#pragma once

#include "drawings/steps.hpp"
#include "page_set.hpp"

#include <optional>

namespace ribbay::detail {

/// One attempt at the page of a group of steps; nothing when the picture does not fit. `page_text`
/// is the suffix of the identification number.
std::optional<Drawing> step_drawing(const PageSet& set, const AssemblyPlan& plan,
                                    const ApartGroup& group, const std::string& page_text,
                                    PageSize page, double scale);

}  // namespace ribbay::detail

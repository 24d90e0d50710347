#pragma once

#include "drawings/sections.hpp"
#include "page_set.hpp"

#include <optional>

namespace ribbay::detail {

/// One attempt at the page of a module's sections: the views that show where they run, and each
/// section with the marks of what is cut. Nothing when it does not fit.
std::optional<Drawing> section_drawing(const PageSet& set, const Module& module,
                                       const std::vector<SectionPlane>& planes, PageSize page,
                                       double scale);

}  // namespace ribbay::detail

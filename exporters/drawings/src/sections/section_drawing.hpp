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

/// The same views put into what is free of `area` on another drawing of the module, with marks of what is
/// cut or without. Where `scale` is not the page's their titles tell it. False when they do not fit: then what was drawn is of no use.
bool add_sections(Drawing& d, const PageSet& set, const Module& module,
                  const std::vector<SectionPlane>& planes, double scale, double page_scale,
                  const Rect& area, bool balloons);

}  // namespace ribbay::detail

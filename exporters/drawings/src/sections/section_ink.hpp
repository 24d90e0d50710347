#pragma once

#include "drawings/sections.hpp"
#include "drawings/views.hpp"

namespace ribbay::detail {

/// Ink of a section in its place: hatching, grey of narrow faces, outlines, what lies behind.
/// Equipment is drawn as the context that it is.
void add_section_ink(Drawing& d, const Layout& layout, const Section& section,
                     const ViewPlace& place);

}  // namespace ribbay::detail

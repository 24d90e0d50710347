#pragma once

#include "base/finding.hpp"
#include "drawings/drawing.hpp"
#include "layout/layout.hpp"

#include <optional>

namespace ribbay {

/// Where something is wrong, as a picture at most 190 mm wide: the van with the place ringed, the
/// bodies concerned in the view that parts them best, and the place itself enlarged. What moves is
/// drawn where it meets what stops it, and, in double-dashed lines, where it is shut; so is the
/// space of a zone. Below stand the names.
///
/// Nullopt when the finding names nothing that could be drawn.
std::optional<Drawing> finding_picture(const Layout& layout, const Finding& finding);

}  // namespace ribbay

#pragma once

#include "drawings/sections.hpp"
#include "scene.hpp"

namespace ribbay::detail {

/// The same of a scene that was made for this scale.
Section cut_open(const Layout& layout, const SceneBodies& scene,
                 const std::map<std::size_t, HatchStyle>& styles, const SectionPlane& plane,
                 double scale);

}  // namespace ribbay::detail

#pragma once

#include "drawings/panel_study.hpp"

#include <string>

namespace ribbay {

/// The way that a direction of the parts of a type looks, by the module's own sides and, where
/// those are others, by the van's: "to the left, in the van to the front". Empty when they look
/// different ways, or one that is none of six. `direction`: unit, in the axes of a part.
std::string way_text(const Layout& layout, const PartType& type, Vec3 direction);

/// How a panel lies in its picture: "Face A is shown. In the module it looks up. The module's front
/// is below here."
std::string face_note(const Layout& layout, const PartType& type, const PanelStudy& panel);

}  // namespace ribbay

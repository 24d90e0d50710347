#pragma once

#include "drawings/panel_study.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// What covers each face and edge of a panel, by the letters and sides of its drawing, one note for
/// each: "Face A: hard oil, two coats.", "Edges, left and right: ...". Empty when nothing does.
std::vector<std::string> finish_notes(const Layout& layout, const Part& part,
                                      const PanelStudy& panel);

}  // namespace ribbay

#pragma once

#include "drawings/panel_study.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// What covers each face and edge of a panel, by the letters and sides of its drawing, one note for
/// each: "Face A: hard oil, two coats.", "Edges, left and right: ...". Empty when nothing does.
std::vector<std::string> finish_notes(const Layout& layout, const Part& part,
                                      const PanelStudy& panel);

/// The edges that a covering lies on, by the sides of the part's drawing: "left", or by two corners
/// where a side has several; empty when it lies on all of them, or on none.
std::vector<std::string> edge_names(const Part& part, const PanelStudy& panel,
                                    const Covering& covering, LengthStyle show);

}  // namespace ribbay

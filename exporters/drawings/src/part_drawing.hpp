#pragma once

#include "page_set.hpp"

#include <optional>

namespace ribbay::detail {

/// One attempt at the drawing of a type of member or panel; nothing when something found no place.
std::optional<Drawing> member_drawing(const PageSet& set, const PartType& type,
                                      const Attempt& attempt);
std::optional<Drawing> panel_drawing(const PageSet& set, const PartType& type,
                                     const Attempt& attempt);

/// Title block of a part drawing, without its scale.
TitleBlock part_title(const PageSet& set, const PartType& type);
/// "Mark P3, 2 off: galley/side.left, galley/side.right".
std::string part_ids(const PageSet& set, const PartType& type);

}  // namespace ribbay::detail

#pragma once

#include "kind.hpp"

#include <string_view>

/// Finishes on the parts of a module.
namespace ribbay::detail {

/// The field `finishes` that every kind has.
Field finishes_field();

/// Which side of a board.
enum class BoardSide { face, back };

/// What the field `finishes` adds to that side of the part of that name, without the module, mm; a film
/// that turns over counts at the back. For generators that lay one board on another.
double covering_on(const Record& fields, const Catalogue& catalogue, std::string_view part,
                   BoardSide side);

/// Covers the parts of a module as its field `finishes` says, gives every part that is covered, by
/// that field or by its generator, its finished shape, and adds the mass of what covers it.
/// Findings: "finish.no_such_part", "finish.band_on_face", "finish.turn_over", "finish.too_thick",
/// "finish.twice".
void apply_finishes(const std::string& module, const Record& fields, const Catalogue& catalogue,
                    ModuleParts& made);

}  // namespace ribbay::detail

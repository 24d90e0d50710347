#pragma once

#include "page_set.hpp"

#include <optional>

namespace ribbay::detail {

/// One attempt at the assembly drawing of a module at `scale`; nothing when it does not fit. With
/// `lists` the parts list and the hardware list stand over the title block.
std::optional<Drawing> assembly_drawing(const PageSet& set, const Module& module, PageSize page,
                                        double scale, bool lists);

/// Parts list and hardware list of a module on pages of their own.
std::vector<Drawing> list_pages(const PageSet& set, const Module& module);

/// How many rows the lists of a module have, headings included.
std::size_t list_rows(const PageSet& set, const Module& module);

/// Plan and side elevation of the whole van, with the outline of its room.
std::optional<Drawing> van_plan(const PageSet& set, PageSize page, double scale);

/// The van's floor from above with its joists, what must not be drilled, and every hole through it
/// by X and Y from a named datum. Nothing when there is no such hole.
std::optional<Drawing> floor_plan(const PageSet& set, PageSize page, double scale);

/// Where walls and roof are drilled: both sides and the roof, as far as something is screwed or
/// bolted to their ribs and bows. Nothing without such holes, or when it does not fit.
std::optional<Drawing> wall_plan(const PageSet& set, PageSize page, double scale);
bool has_wall_holes(const Layout& layout);

/// Both sides of the van seen from its centre line, with ribs, bows, wheel arches, openings and the
/// gaps of `set`. Nothing without a vehicle.
std::optional<Drawing> van_elevations(const PageSet& set, PageSize page, double scale);

}  // namespace ribbay::detail

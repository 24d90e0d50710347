#pragma once

#include "drawings/steps.hpp"
#include "drawings/visible_lines.hpp"
#include "page_set.hpp"

#include <map>
#include <optional>
#include <string>

namespace ribbay::detail {

/// Of each unit with pictures, by its name: the identification numbers of its sheets.
using StepSheets = std::map<std::string, std::string>;

/// The way to look at a group of steps, out of five, that shows most of them; the module's own wins
/// a draw.
ViewFrame step_look(const PageSet& set, const AssemblyPlan& plan, const ApartGroup& group);

/// What is told of them beside their picture.
Table step_table(const PageSet& set, const AssemblyPlan& plan, const ApartGroup& group,
                 const StepSheets& sheets);

/// One attempt at the page of a group of steps; nothing when the picture does not fit. `page_text`
/// is the suffix of the identification number.
std::optional<Drawing> step_drawing(const PageSet& set, const AssemblyPlan& plan,
                                    const ApartGroup& group, const ViewFrame& view,
                                    const Table& table, const std::string& page_text, PageSize page,
                                    double scale);

}  // namespace ribbay::detail

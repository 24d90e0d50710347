#pragma once

#include "assembly/assembly.hpp"
#include "drawings/drawings.hpp"

#include <cstddef>
#include <vector>

/// The order of assembly as pictures: things drawn apart along the ways that bring them together.
namespace ribbay {

/// One thing of a step, away from its place.
struct ApartStep {
  std::size_t step = 0;            ///< index into AssemblyUnit::steps; its number is one more
  std::vector<std::size_t> parts;  ///< indices into Layout::parts: what comes, and hardware with it
  Vec3 shift;                      ///< from its place, against the way that it is brought in, mm
  Box box;                         ///< of the parts, shifted
};

/// Some steps of one unit in a row.
struct ApartGroup {
  std::size_t unit = 0;               ///< index into AssemblyPlan::units
  std::vector<std::size_t> standing;  ///< parts that earlier steps have brought
  std::vector<ApartStep> steps;       ///< in the order of the plan
};

/// At most this many steps are drawn apart in one picture: more hide each other.
inline constexpr std::size_t kMostApart = 8;

/// Every step of every unit, but for a thing alone that nothing is fixed to, in groups of about
/// equal size, more of them where there is much to tell. A thing stands off so far that its box is
/// clear of all that stands and of what came before it in its group, and most of it is seen from
/// one of the four upper corners; what follows along the same way stands off further.
std::vector<ApartGroup> taken_apart(const Layout& layout, const AssemblyPlan& plan);

/// A picture of each group, numbered as the steps in shop/assembly.txt: pages of the drawing set
/// from 601 onwards, "drawings/601-galley-steps-1-to-6.svg". What stands is drawn narrow, what
/// comes wide, with a narrow line to its place; a table tells slot nuts, glue, what is laid in and
/// driven, and with what tool, also what is driven when the module is in its place.
std::vector<SetPage> step_pages(const Layout& layout, const AssemblyPlan& plan,
                                const DrawingOptions& options = {});

}  // namespace ribbay

#pragma once

#include "assembly/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

/// How what is too heavy for one person is carried.
namespace ribbay {

/// What one person at one end of a thing takes of its mass, by the lever between both ends.
struct LiftedEnd {
  Vec3 side;         ///< unit, in the van: the way of that end
  double from_centre = 0.0;  ///< along it, from the centre of mass to the end, mm
  double mass_kg = 0.0;
};

struct Lift {
  double mass_kg = 0.0;
  Vec3 centre;          ///< of mass, in the van
  double above_foot = 0.0;  ///< how high that is over its lowest point, mm
  /// The two ends of its longest level side: a person at each. First the one to the rear or right.
  std::vector<LiftedEnd> ends;
  /// Ids of handles to lift by: those that nothing moves on. Others open while they are pulled.
  std::vector<std::string> handles;
  bool moving = false;  ///< drawers, doors or lids ride along: held shut, and nobody lifts by them
  /// An end is more than one person lifts: more people, or something that lifts.
  bool beyond_two = false;
};

/// Nullopt when one person lifts it, by the project's one_person_lifts. `ids` are the parts that are
/// carried together, hardware on them included.
std::optional<Lift> lift(const Layout& layout, const std::vector<std::string>& ids);

/// Of all of them together, kg.
double mass_of(const Layout& layout, const std::vector<std::string>& ids);

/// What is carried in a step, with what sits on it already.
std::vector<std::string> carried(const AssemblyStep& step);
/// What is carried into the van of a unit that was put together on the bench: its parts and their
/// hardware, equipment and what fixes it to the van left out.
std::vector<std::string> carried(const Layout& layout, const AssemblyUnit& unit);

}  // namespace ribbay

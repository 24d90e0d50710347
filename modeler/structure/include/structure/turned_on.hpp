#pragma once

#include "structure/grips.hpp"

#include <string>
#include <vector>

/// What goes onto bolts and into fittings, and is no part of the layout.
namespace ribbay {

/// Nuts, washers and the like of one kind in one module.
struct TurnedOn {
  std::string title;   ///< "Hexagon nut M8, ISO 4032", in the words of the drawings
  std::string module;  ///< name
  int count = 0;
};

/// What one bolt takes.
struct OnBolt {
  std::string title;     ///< as TurnedOn::title
  double spanner = 0.0;  ///< of a nut that is held against the bolt, mm; 0: no nut, or not known
};

/// As turned_on() counts them, from the bolt's head on: its nut last.
std::vector<OnBolt> on_bolt(const Layout& layout, const Grip& grip);

/// Nuts and washers on bolts that pass through clear holes, rivet nuts in the van's sheet, and what
/// a bolt through the van's floor takes below it: nut, washer, plate, compression sleeve; the
/// washer is a large one where neither joist nor plate spreads its load (common practice, no
/// source). Screws or rivets of fittings that no fastener of the layout holds, one for each of
/// their holes, and of the far ends of stays. Slot nuts and inserts are parts of the layout. Sorted
/// by title, then module.
std::vector<TurnedOn> turned_on(const Layout& layout);

/// A fitting with holes that no fastener of the layout goes through.
bool fixed_by_own_holes(const Layout& layout, const Part& part);

}  // namespace ribbay

#pragma once

#include "layout/layout.hpp"

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

/// Nuts and washers on bolts that pass through clear holes, rivet nuts in the van's sheet, and what a
/// bolt through the van's floor takes below it: nut, washer, plate, compression sleeve; the washer is a
/// large one where neither joist nor plate spreads its load (common practice, no source). Screws or
/// rivets of fittings that no fastener of the layout holds, one for each of their holes, and of the far
/// ends of stays. Slot nuts and inserts are parts of the layout. Sorted by title, then module.
std::vector<TurnedOn> turned_on(const Layout& layout);

}  // namespace ribbay

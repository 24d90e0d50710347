#pragma once

namespace ribbay {

/// How far what is built may lie from what is drawn, plus or minus, in mm. [tolerances] of a project
/// says it; the defaults there are common practice, no source.
struct Tolerances {
  double saw = 0.0;       ///< of a cut size
  double sheet = 0.0;     ///< of the thickness of sheets without limits in the catalogue, and of planks
  double profile = 0.0;   ///< of a profile's cross-section
  double folding = 0.0;   ///< of a size of folded sheet
  double bought = 0.0;    ///< of a size of what is bought
  double assembly = 0.0;  ///< of a part set by hand along the one that it is fastened to
  double fitting = 0.0;   ///< of a module set in its place
  double play = 0.0;      ///< of slides and hinges, across their way
};

}  // namespace ribbay

#pragma once

#include <string>

namespace ribbay {

/// How the shop saws: what the cut plans reckon with. Millimetres.
struct Sawing {
  double bar_kerf = 0.0;      ///< width of a cut through a bar
  double bar_trim = 0.0;      ///< taken off each end of a bar first, its cut included
  double bar_clamp = 0.0;     ///< shortest rest of a bar that the saw can hold
  double sheet_kerf = 0.0;    ///< width of a cut through a sheet
  double sheet_trim = 0.0;    ///< taken off each edge of a sheet first, its cut included
  double keep_bar = 0.0;      ///< shortest rest of a bar that is kept as an offcut
  double keep_sheet = 0.0;    ///< shortest side of a rest of a sheet that is kept
  bool three_stages = false;  ///< sheets: strips, across them, and once more
};

/// What is left from earlier work and lies on the rack.
struct Offcut {
  std::string name;
  std::string stock;    ///< catalogue key of the profile, plank or sheet
  double length = 0.0;  ///< of a sheet along its grain
  double width = 0.0;   ///< 0 for profiles and planks
  int count = 1;
};

}  // namespace ribbay

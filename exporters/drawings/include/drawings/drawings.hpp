#pragma once

#include "base/output_file.hpp"
#include "drawings/drawing.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A narrow gap that the drawing of the van's sides calls out. Millimetres, van axes.
struct CalledGap {
  std::string a;       ///< part id
  std::string b;       ///< part id, or body of the van
  int axis = 0;        ///< of the van, along which it is measured: 0 x, 1 y, 2 z
  double drawn = 0.0;  ///< as laid out
  double least = 0.0;  ///< in the worst case; below 0: the two may not go past each other
  Vec3 at;
};

struct DrawingOptions {
  bool not_for_cutting = false;      ///< stamp every page: some check failed
  std::vector<CalledGap> gaps = {};  ///< marked on the drawing of the van's sides, in this order
};

/// One page of the set, before it is written.
struct SetPage {
  std::string path;  ///< "drawings/010-rack.svg"
  std::string what;  ///< one line for the manifest
  Drawing drawing;
};

/// The set of drawings of a layout: 001 plan of the van, 002 drilling plan of its floor where bolts
/// or pipes go through it, 003 both sides of the van seen from its centre line, 010 onwards one assembly
/// drawing per module (with pages of lists where they do not fit beside it, and a page of sections where
/// it has an inside), 101 onwards one drawing per type of made part. Names are
/// "drawings/NNN-name.svg".
///
/// Each is laid out again, smaller or on a larger page, until its audit (audit.hpp) finds nothing.
/// A part that resists all that gets a page that says so.
std::vector<SetPage> drawing_set(const Layout& layout, const DrawingOptions& options = {});

/// drawing_set() as SVG in true mm.
OutputFiles drawings(const Layout& layout, const DrawingOptions& options = {});

/// A picture of each module, "pictures/MODULE.svg": isometric, from in front, at most 160 mm wide
/// and 110 mm high; no frame, no scale, no lettering.
OutputFiles pictures(const Layout& layout);

}  // namespace ribbay

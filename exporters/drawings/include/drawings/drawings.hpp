#pragma once

#include "base/output_file.hpp"
#include "drawings/drawing.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

struct DrawingOptions {
  bool not_for_cutting = false;  ///< stamp every page: some check failed
};

/// One page of the set, before it is written.
struct SetPage {
  std::string path;  ///< "drawings/010-rack.svg"
  std::string what;  ///< one line for the manifest
  Drawing drawing;
};

/// The set of drawings of a layout: 001 plan of the van, 002 drilling plan of its floor where bolts
/// or pipes go through it, 010 onwards one assembly drawing per module (with pages of lists where
/// they do not fit beside it, and a page of sections where it has an inside), 101 onwards one drawing per type of made part. Names are
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

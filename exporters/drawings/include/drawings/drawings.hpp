#pragma once

#include "base/output_file.hpp"
#include "layout/layout.hpp"

namespace ribbay {

struct DrawingOptions {
  bool not_for_cutting = false;  ///< stamp every page: some check failed
};

/// The set of drawings of a layout, as SVG in true mm, in the order of a set:
/// 001 van plan, 010 onwards one assembly drawing per module (with a sheet of lists where they do
/// not fit), 101 onwards one drawing per type of made part. Names are "drawings/NNN-name.svg". A
/// drawing is laid out again, smaller or on a larger page, until its audit (audit.hpp) finds
/// nothing.
OutputFiles drawings(const Layout& layout, const DrawingOptions& options = {});

}  // namespace ribbay

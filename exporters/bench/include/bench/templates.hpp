#pragma once

#include "bench/bench_options.hpp"
#include "drawings/drawings.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// One part at its true size.
struct Template {
  std::string name;  ///< of its files: "p36-piece-1"
  std::string what;
  std::vector<Drawing> pages;  ///< a map first, then the sheets, row by row from below
  Drawing whole;               ///< all of it on one sheet, for a plotter
};

/// Templates at 1:1 for what a tape cannot mark out: outlines and cut-outs that follow a curve (two
/// sides in a row that are not square to the part) or have an arc of more than 30 mm radius. Circles
/// are set by a compass and get none; neither do rectangles. Of what is bent the blank is drawn.
///
/// Sheets of `template_paper` lap by 10 mm. Each has its column and row, lines to cut and
/// lay on, crosses that meet those of its neighbours, and a check square of 100 mm (50 or 25 mm where
/// that finds no room clear of all ink), beside the part where it can be. Edges of rebates and dados
/// are drawn, and holes in the faces; those of the far face are dashed. Sheets that nothing is drawn on
/// are left out, so long as the others hang together, and the map names them. It gives ordinates every
/// 100 mm.
std::vector<Template> templates(const Layout& layout, const BenchOptions& options = {});

}  // namespace ribbay

#pragma once

#include "bench/bench_options.hpp"
#include "layout/layout.hpp"
#include "tiles.hpp"

#include <string>

/// The pages of one template.
namespace ribbay::detail {

struct TemplateJob {
  const Layout& layout;
  const PartType& type;
  const Part& part;
  TrueOutline outline;
  Tiling tiling;
  BenchOptions options;
};

/// All that a template shows of a part: outline, what is worked into its faces, bends, holes.
Drawn inked(const TrueOutline& outline);

Drawing map_page(const TemplateJob& job);
Drawing tile_page(const TemplateJob& job, Tile tile);
Drawing whole_sheet(const TemplateJob& job);

}  // namespace ribbay::detail

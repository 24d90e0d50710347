#pragma once

#include "bench/bench_options.hpp"
#include "tiles.hpp"

#include "layout/layout.hpp"

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

Drawing map_page(const TemplateJob& job);
Drawing tile_page(const TemplateJob& job, Tile tile);
Drawing whole_sheet(const TemplateJob& job);

}  // namespace ribbay::detail

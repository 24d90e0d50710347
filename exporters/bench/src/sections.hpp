#pragma once

#include "assembly/assembly.hpp"
#include "bench/bench_options.hpp"
#include "drawings/drawings.hpp"

#include <vector>

/// The sections of the bench set, each as its pages; paths are still the names of the sections.
namespace ribbay::detail {

/// Every piece, stock by stock, the longest first.
std::vector<SetPage> saw_pages(const Layout& layout, const BenchOptions& options);
/// A card for each type of part that is more than sawn to size.
std::vector<SetPage> part_pages(const Layout& layout, const BenchOptions& options);
/// Modules step by step, and what proves them square.
std::vector<SetPage> assembly_pages(const Layout& layout, const AssemblyPlan& plan,
                                    const BenchOptions& options);

}  // namespace ribbay::detail

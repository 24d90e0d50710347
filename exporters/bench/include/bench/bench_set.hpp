#pragma once

#include "assembly/assembly.hpp"
#include "bench/bench_options.hpp"
#include "drawings/drawings.hpp"

#include <vector>

namespace ribbay {

/// What lies at the bench while the work is done, for an ordinary printer, in the order of the
/// work: what is sawn, stock by stock; what is then worked, a part or several small ones a page; how
/// each module goes together, with the diagonals that prove it square; where the modules stand in the
/// van (tape_out.hpp). Every cut, hole and piece has a box to tick. Positions run from the end where
/// the tape hooks on, and add up. Letters are 3.5 mm and more, sizes and positions 5 mm and more: read
/// at 0.7 m (letters as high as a two-hundredth of the distance: common practice, no source); one
/// that does not fit is made smaller, never left out.
///
/// Paths are "bench/NNN-section.svg". Empty when nothing is made.
std::vector<SetPage> bench_set(const Layout& layout, const AssemblyPlan& plan,
                               const BenchOptions& options = {});

}  // namespace ribbay

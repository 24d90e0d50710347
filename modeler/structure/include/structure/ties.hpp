#pragma once

#include "layout/layout.hpp"
#include "structure/supports.hpp"

/// Whether modules are tied to the van.
namespace ribbay {

/// What lighter modules do when they come loose is not told, kg.
inline constexpr double kFlies = kHeavy;

/// Tells "support.not_tied", a warning, of every module of kFlies or more, with what it holds, that
/// only stands, lies or leans: no bolt, screw, fitting or glue leads from it to the van, be it through
/// other modules. How much they bear is not judged.
Findings check_ties(const Layout& layout);

}  // namespace ribbay

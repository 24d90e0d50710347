#pragma once

#include "assembly/assembly.hpp"
#include "base/output_file.hpp"

namespace ribbay {

/// The order of assembly in words and as a table:
/// - shop/assembly.txt: module by module, each step numbered, what goes into slots first, how it is
///   moved, how it is carried when one person cannot, what holds it and with what tool; then how to square it up, and torques.
/// - shop/assembly.csv. Columns: unit, step, where ("bench" or "van"), part ids, title, mark, way,
///   travel, mass_kg, people, lift (who takes what at which end, where to hold), held ("yes" or "prop it up"), slot nuts, hardware, fasteners, tools.
/// Empty without parts.
OutputFiles assembly_files(const Layout& layout, const AssemblyPlan& plan);

}  // namespace ribbay

#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "layout/layout.hpp"
#include "solids/solid_set.hpp"

#include <string>

namespace ribbay {

struct StepOptions {
  std::string date = {};    ///< ISO 8601, for the header's time stamp; empty: the header names none
  std::string module = {};  ///< only the parts of this module; empty: everything
};

/// A STEP file (ISO 10303-21, schema of AP242) of the layout, in mm and van axes:
///
///     project > module > instances of parts
///
/// Parts that are made alike are one product, placed as often as needed; its name is its mark and
/// title
/// ("M1 Post"). Each instance carries the part's id. Products have their colour and, where the
/// catalogue knows it, material and density (g/cm3). Parts without a solid are left
/// out.
///
/// The same layout gives the same bytes: entities are put in an order that depends on their content
/// alone, and the header's only date is `options.date`. Text outside ASCII is escaped as ISO
/// 10303-21 asks. May be called from several threads; files are written one at a time. Fails with
/// "step.not_written".
Result<OutputFile> step_assembly(const Layout& layout, const SolidSet& solids,
                                 const std::string& path, const StepOptions& options = {});

/// The whole layout as model/assembly.step and each module that has parts as model/MODULE.step.
Built<OutputFiles> step_files(const Layout& layout, const SolidSet& solids,
                              const std::string& date);

}  // namespace ribbay

#pragma once

#include "assembly/assembly.hpp"
#include "base/finding.hpp"
#include "base/output_file.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A file that the build read.
struct InputDigest {
  std::string
      path;  ///< relative to the folder of the project file, so that it is the same everywhere
  std::string sha256;
};

/// How the checks of one family came out. Silence is never a pass, so passes are counted too.
struct CheckTally {
  std::string name;  ///< "bodies against each other", "drawers and doors"
  std::size_t passed = 0;
  std::size_t failed = 0;
  std::size_t not_proven = 0;
};

/// All that a build has to tell. `layout` is null when the input was too wrong to lay anything out.
struct Report {
  const Layout* layout = nullptr;
  const AssemblyPlan* assembly = nullptr;  ///< of that layout; null: not planned
  std::vector<InputDigest> inputs;
  std::vector<std::string> settings;  ///< --set arguments, in order
  std::vector<CheckTally> checks;
  Findings findings;  ///< sorted, see sort_findings()
};

/// The report as JSON, schema in params/report.schema.json: lengths in mm rounded to 0.001, masses
/// in kg, forces in N, keys in a fixed order, UTF-8, a line feed at the end.
std::string report_json(const Report& report);

/// The report in words, for the terminal and for summary.txt. No colours, no times, lines end with
/// LF.
std::string summary_text(const Report& report);

/// report.json and summary.txt.
OutputFiles report_files(const Report& report);

}  // namespace ribbay

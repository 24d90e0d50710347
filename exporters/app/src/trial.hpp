#pragma once

#include "clearance/clearance.hpp"
#include "layout/project.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay::detail {

/// What all the checks find in a layout whose clearance has been checked.
Findings all_findings(const Layout& layout, const ClearanceResult& clearance);

/// A project as it comes out with some settings; nothing is written.
struct Trial {
  std::optional<Layout> layout;  ///< nullopt: it could not be laid out
  ClearanceResult clearance;
  Findings findings;  ///< of reading, laying out and all checks; sorted
};

/// Whether advice is tried by a rerun each, and so may be printed, and what is never an error is
/// looked for as well: orders of assembly.
enum class Advice { left_out, confirmed };

/// Reads, chooses candidates, lays out and checks, as `check` does it. Trials of one project share a
/// memo: what is alike in them is worked out once.
Trial try_project(const std::string& file, const std::vector<std::string>& settings,
                  const ReadFile& read, int jobs, Advice advice, Memo& memo);

}  // namespace ribbay::detail

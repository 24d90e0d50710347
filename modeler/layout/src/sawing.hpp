#pragma once

#include "layout/layout.hpp"
#include "spec/record.hpp"
#include "spec/schema.hpp"

namespace ribbay::detail {

/// The schema of [saw], and of [offcut.NAME].
SchemaPtr saw_schema();
SchemaPtr offcut_schema();

Sawing read_sawing(const Record& record);

/// Nullopt, and a finding, where no profile, plank or sheet has its key, or its width is missing or
/// too much.
std::optional<Offcut> read_offcut(const std::string& name, const Record& record,
                                  const Catalogue& catalogue, Findings& findings);

}  // namespace ribbay::detail

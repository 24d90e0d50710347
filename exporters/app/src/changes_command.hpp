#pragma once

#include "app/program.hpp"
#include "changes/changes.hpp"
#include "command_line.hpp"
#include "drawings/drawings.hpp"

namespace ribbay::detail {

/// What an earlier build made: the folder of its output. Fails with "changes.not_a_build",
/// "changes.no_record", "changes.stale" or what read_parts() says.
Result<BuildRecord> read_build(const std::string& folder);

/// What the pages of the set show, their date of issue left out; nullopt when there are none.
std::optional<std::vector<DrawingDigest>> drawing_digests(const std::vector<SetPage>& pages,
                                                          const std::string& date);

ExitCode run_changes(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

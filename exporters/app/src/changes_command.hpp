#pragma once

#include "app/program.hpp"
#include "changes/changes.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// What an earlier build made: the folder of its output. Fails with "changes.not_a_build",
/// "changes.no_record", "changes.stale" or what read_parts() says.
Result<BuildRecord> read_build(const std::string& folder);

/// The digests of the drawings among `files`; nullopt when there are none.
std::optional<std::vector<DrawingDigest>> drawing_digests(const OutputFiles& files);

ExitCode run_changes(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

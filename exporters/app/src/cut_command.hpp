#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// `ribbay cut`: plans how to cut any list of pieces from bars or sheets, without a project.
ExitCode run_cut(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

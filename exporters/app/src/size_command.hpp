#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// `ribbay size`: the smallest or largest value of a range for which the checks pass.
ExitCode run_size(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// `ribbay vans`: the project in its own van and in others, compared. A van that cannot be read does
/// not stop the others.
ExitCode run_vans(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

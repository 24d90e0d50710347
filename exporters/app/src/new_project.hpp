#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// `ribbay new`: writes a folder with a project that builds, all or nothing, and only where nothing
/// stands yet.
ExitCode run_new(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

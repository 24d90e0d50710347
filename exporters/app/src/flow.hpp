#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// Lays out and checks a project, and for `build` exports it. The flow of the whole program:
///
///     read inputs > lay out > check clearance > make solids > exporters > report > publish
ExitCode run_flow(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

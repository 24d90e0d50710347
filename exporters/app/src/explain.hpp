#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// `ribbay explain`: the parameters of a kind, where a value of a project comes from, or the whole
/// reference.
ExitCode run_explain(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

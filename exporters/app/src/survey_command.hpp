#pragma once

#include "app/program.hpp"
#include "command_line.hpp"

namespace ribbay::detail {

/// Without a file: writes a measuring form and the file to type its numbers into. With one: says
/// which blanks are still empty, else which readings are doubtful.
ExitCode run_survey(const Command& command, const Surroundings& world);

}  // namespace ribbay::detail

#pragma once

#include "app/program.hpp"
#include "base/output_file.hpp"
#include "base/text.hpp"

#include <string>

namespace ribbay::detail {

/// Writes a command's files and their manifest to a folder that is empty or that `maker` wrote
/// before, and says so; complains on `world.err` when that fails.
ExitCode write_folder(const std::string& out, const std::string& maker, OutputFiles files,
                      LengthStyle show, const Surroundings& world);

}  // namespace ribbay::detail

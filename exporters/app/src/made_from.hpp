#pragma once

#include "layout/project.hpp"
#include "report/report.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// `path` as seen from the folder of the project file; what is no path ("--set") stays as it is.
std::string path_from_project(const std::string& path, const std::string& project_file);

/// Every file that was read, sorted by path, each once.
std::vector<InputDigest> input_digests(const Inputs& inputs, const std::string& project_file);

/// One digest over all that the output depends on: inputs, settings, date and the program's
/// version.
std::string made_from(const Report& report, const std::string& date);

}  // namespace ribbay::detail

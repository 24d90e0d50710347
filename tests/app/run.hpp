#pragma once

#include "app/program.hpp"

#include <sstream>
#include <string>
#include <vector>

namespace ribbay {

/// What one run of the program said and returned.
struct Run {
  int code = -1;
  std::string out;
  std::string err;
};

/// Runs the program as a shell would, with the real disk unless `files` is given. No terminal, two
/// cores.
inline Run run(const std::vector<std::string>& arguments, FileCalls* files = nullptr) {
  FileCalls disk;
  std::ostringstream out;
  std::ostringstream err;
  const Surroundings world{.out = out, .err = err, .files = files ? *files : disk, .cores = 2};
  const ExitCode code = run_program(arguments, world);
  return {static_cast<int>(code), out.str(), err.str()};
}

}  // namespace ribbay

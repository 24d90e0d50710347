#pragma once

#include "app/file_calls.hpp"
#include "base/finding.hpp"

#include <optional>
#include <ostream>
#include <string>
#include <vector>

namespace ribbay {

/// What the program ends with.
enum class ExitCode {
  nothing_wrong = 0,
  findings = 1,       ///< a check failed (or, with --strict, could not be proven)
  wrong_input = 2,    ///< the parameter files or the command line
  machine_failed = 3  ///< disk, permission, or a fault of ours
};

/// What a run ends with whose input was right and whose machine worked: `findings` when one is an
/// error, or with `strict` when something could not be proven.
ExitCode exit_code(const Findings& findings, bool strict);

/// The world as the program sees it; main() fills in the real one, tests another.
struct Surroundings {
  std::ostream& out;  ///< findings and what was asked for
  std::ostream& err;  ///< progress and diagnostics
  FileCalls& files;
  bool out_colour = false;    ///< colour is welcome on `out`
  bool err_terminal = false;  ///< `err` is a terminal: a progress line can be rewritten
  int cores = 1;
  std::optional<std::string> source_date_epoch = {};  ///< the environment variable of that name
};

/// Runs one command line, without the program's name in front. Never throws.
ExitCode run_program(const std::vector<std::string>& arguments, const Surroundings& world);

}  // namespace ribbay

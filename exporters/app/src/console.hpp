#pragma once

#include "app/program.hpp"
#include "base/text.hpp"

#include <string>

namespace ribbay::detail {

/// One line on a terminal that says what is being done; silent elsewhere.
class Progress {
 public:
  Progress(const Surroundings& world, bool quiet, int steps)
      : err_(world.err), shown_(world.err_terminal && !quiet), steps_(steps) {}
  ~Progress() { clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void step(const std::string& what);
  void clear();

 private:
  std::ostream& err_;
  bool shown_;
  int steps_;
  int done_ = 0;
};

/// `text` with the words that open a finding in colour: "error:", "warning:", "not proven:",
/// "note:".
std::string coloured(const std::string& text);

}  // namespace ribbay::detail

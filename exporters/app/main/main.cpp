#include "app/program.hpp"

#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <string_view>
#include <thread>

namespace {

std::string_view environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

}  // namespace

int main(int argc, char** argv) {
  ribbay::FileCalls files;
  ribbay::Surroundings world{.out = std::cout, .err = std::cerr, .files = files};
  const bool plain = !environment("NO_COLOR").empty() || environment("TERM") == "dumb";
  world.out_colour = isatty(STDOUT_FILENO) == 1 && !plain;
  world.err_terminal = isatty(STDERR_FILENO) == 1 && environment("TERM") != "dumb";
  world.cores = static_cast<int>(std::thread::hardware_concurrency());
  if (const auto epoch = environment("SOURCE_DATE_EPOCH"); !epoch.empty()) {
    world.source_date_epoch = epoch;
  }
  return static_cast<int>(ribbay::run_program({argv + 1, argv + argc}, world));
}

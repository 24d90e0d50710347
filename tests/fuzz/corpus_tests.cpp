#include "targets.hpp"

#include <catch2/catch.hpp>
#include <sys/resource.h>

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace fs = std::filesystem;

// What fuzzing has found and started from, run by the program as it is shipped: no crash, no input
// that takes a second, and not more than 200 MB.

namespace {

std::vector<std::string> corpus(const std::string& name) {
  const fs::path folder = fs::path(RIBBAY_SOURCE_DIR) / "tests/fuzz/corpus" / name;
  std::vector<std::string> inputs;
  for (const auto& entry : fs::directory_iterator(folder)) {
    std::ifstream file(entry.path(), std::ios::binary);
    std::stringstream bytes;
    bytes << file.rdbuf();
    inputs.push_back(bytes.str());
  }
  std::ranges::sort(inputs);
  return inputs;
}

double megabytes_at_most() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;  // Linux counts kB
}

}  // namespace

TEST_CASE("the inputs of the fuzzer keep every promise", "[fuzz][hostile]") {
  struct Target {
    const char* name;
    void (*run)(std::string_view);
    std::size_t least;
  };
  const auto target = GENERATE(values<Target>({{"reader", ribbay::fuzz_reader, 100},
                                               {"evaluator", ribbay::fuzz_evaluator, 200},
                                               {"vehicle", ribbay::fuzz_vehicle, 3}}));
  CAPTURE(target.name);
  const std::vector<std::string> inputs = corpus(target.name);
  CHECK(inputs.size() >= target.least);
  for (const std::string& input : inputs) {
    const std::clock_t start = std::clock();
    target.run(input);
    CAPTURE(input);
    CHECK(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC < 1.0);
  }
#ifndef __SANITIZE_ADDRESS__  // whose shadow takes more than the program
  CHECK(megabytes_at_most() < 200.0);
#endif
}

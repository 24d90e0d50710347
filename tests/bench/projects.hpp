#pragma once

#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace ribbay::testing {

/// Every project that comes with the program.
inline std::vector<std::string> all_projects() {
  std::vector<std::string> files;
  for (const char* folder : {"marsh", "examples"}) {
    const std::string path = std::string(RIBBAY_SOURCE_DIR "/params/") + folder;
    for (const auto& entry : std::filesystem::directory_iterator(path)) {
      // What projects include, as the demo's equipment, is no project.
      if (entry.path().extension() == ".toml" && entry.path().stem() != "equipment")
        files.push_back(entry.path().string());
    }
  }
  std::ranges::sort(files);
  REQUIRE(files.size() >= 15);
  return files;
}

inline Layout project(const std::string& file) {
  const auto inputs = read_inputs(file);
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  return *layout.value;
}

inline Layout marsh() { return project(RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml"); }

}  // namespace ribbay::testing

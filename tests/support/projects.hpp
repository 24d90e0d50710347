#pragma once

#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <string>
#include <vector>

/// The projects that come with the program.
namespace ribbay::testing {

/// The project files of a folder of params/, by name.
inline std::vector<std::string> project_files(const std::string& folder) {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIBBAY_SOURCE_DIR "/params/" + folder)) {
    // What projects include, as the demo's equipment, is no project.
    if (entry.path().extension() == ".toml" && entry.path().stem() != "equipment")
      files.push_back(entry.path().string());
  }
  std::ranges::sort(files);
  return files;
}

/// The demo's and the examples'.
inline std::vector<std::string> project_files() {
  std::vector<std::string> files = project_files("marsh");
  std::ranges::copy(project_files("examples"), std::back_inserter(files));
  return files;
}

/// A project file, laid out, with values changed on the way: "module.galley.depth=520 mm".
inline Layout laid_out_file(const std::string& path, const std::vector<std::string>& changed = {}) {
  INFO(path);
  const auto inputs = read_inputs(path, changed);
  REQUIRE(inputs.value);
  auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  return std::move(*layout.value);
}

/// The Marsh project.
inline Layout demo(const std::vector<std::string>& changed = {}) {
  return laid_out_file(RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml", changed);
}

}  // namespace ribbay::testing

#pragma once

#include "temporary_folder.hpp"

#include <filesystem>

namespace ribbay {

/// A fresh folder in which the test runs until it goes out of scope.
class WorkingFolder {
 public:
  WorkingFolder() : before_(std::filesystem::current_path()) {
    std::filesystem::current_path(home_.path());
  }
  ~WorkingFolder() { std::filesystem::current_path(before_); }
  WorkingFolder(const WorkingFolder&) = delete;
  WorkingFolder& operator=(const WorkingFolder&) = delete;

 private:
  TemporaryFolder home_;
  std::filesystem::path before_;
};

}  // namespace ribbay

#pragma once

#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <string>

namespace ribbay {

/// A fresh folder that goes away with its owner. In memory when that is asked for and there is such
/// a file system: for tests that force thousands of files to disk.
class TemporaryFolder {
 public:
  enum class On { disk, memory };
  explicit TemporaryFolder(On on = On::disk) {
    static std::atomic<int> next = 0;
    const std::filesystem::path memory = "/dev/shm";
    const bool in_memory = on == On::memory && std::filesystem::is_directory(memory);
    path_ = (in_memory ? memory : std::filesystem::temp_directory_path()) /
            ("ribbay-test-" + std::to_string(::getpid()) + "-" + std::to_string(next++));
    std::filesystem::remove_all(path_);
    std::filesystem::create_directories(path_);
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace ribbay

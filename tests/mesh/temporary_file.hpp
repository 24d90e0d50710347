#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

namespace ribbay::testing {

/// A file with the given bytes that is gone with the object.
class TemporaryFile {
 public:
  TemporaryFile(const std::string& bytes, const std::string& extension)
      : path_(std::filesystem::temp_directory_path() /
              ("ribbay_mesh_test_" + std::to_string(::getpid()) + extension)) {
    std::ofstream(path_, std::ios::binary) << bytes;
  }
  ~TemporaryFile() { std::filesystem::remove(path_); }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

/// What a command printed, and its exit code.
struct Output {
  std::string text;
  int code = -1;
};

inline Output run(const std::string& command) {
  Output output;
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return output;
  char part[512];
  while (std::fgets(part, sizeof part, pipe) != nullptr) output.text += part;
  const int status = ::pclose(pipe);
  output.code = status >= 0 && status % 256 == 0 ? status / 256 : -1;
  return output;
}

}  // namespace ribbay::testing

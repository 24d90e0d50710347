#pragma once

#include "app/file_calls.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace ribbay::detail {

/// The first thing that went wrong.
struct Fault {
  std::filesystem::path path;
  int error = 0;  ///< errno
};

/// Steps that change the disk, each true when it worked. They are made to be chained with &&: the
/// first fault is kept.
class Disk {
 public:
  explicit Disk(FileCalls& calls) : calls_(calls) {}
  const std::optional<Fault>& fault() const { return fault_; }

  /// Makes a folder and those above it, as far as they are missing, and forces them to disk.
  bool make_folders(const std::filesystem::path& path);
  /// Writes a new file and forces it to disk.
  bool write_file(const std::filesystem::path& path, std::string_view bytes);
  bool link(const std::filesystem::path& from, const std::filesystem::path& to);
  /// Forces the entries of a folder to disk.
  bool sync_folder(const std::filesystem::path& path);
  /// The same for all folders below it and then itself.
  bool sync_tree(const std::filesystem::path& path);
  bool rename(const std::filesystem::path& from, const std::filesystem::path& to);
  bool exchange(const std::filesystem::path& a, const std::filesystem::path& b);
  /// Removes a folder with all it holds; goes on after a fault.
  bool remove_tree(const std::filesystem::path& path);

  /// Remembers a fault that was found elsewhere. Always false.
  bool fail(const std::filesystem::path& path, int error);

 private:
  bool check(int result, const std::filesystem::path& path);
  bool write_all(int file, std::string_view bytes);

  FileCalls& calls_;
  std::optional<Fault> fault_;
};

/// A folder held under an exclusive lock until it goes out of scope. The lock goes with the
/// process, so a folder that can be locked has no living owner.
class FolderLock {
 public:
  FolderLock(FileCalls& calls, const std::filesystem::path& path);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  bool held() const { return held_; }

 private:
  FileCalls& calls_;
  int file_ = -1;
  bool held_ = false;
};

}  // namespace ribbay::detail

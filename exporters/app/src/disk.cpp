#include "disk.hpp"

#include <cerrno>
#include <system_error>
#include <vector>

namespace ribbay::detail {

namespace fs = std::filesystem;

bool Disk::fail(const fs::path& path, int error) {
  if (!fault_) fault_ = Fault{path, error};
  return false;
}

bool Disk::check(int result, const fs::path& path) {
  return result == 0 || fail(path, errno);
}

bool Disk::make_folders(const fs::path& path) {
  std::error_code ignored;
  if (fs::is_directory(path, ignored)) return true;
  if (path.has_parent_path() && path.parent_path() != path && !make_folders(path.parent_path())) {
    return false;
  }
  // Another run may have made it meanwhile.
  if (calls_.make_folder(path.c_str()) != 0 && errno != EEXIST) return fail(path, errno);
  return sync_folder(path.parent_path());
}

bool Disk::write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t count = calls_.write(file, bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count == 0) errno = EIO;
    if (count <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return true;
}

bool Disk::write_file(const fs::path& path, std::string_view bytes) {
  const int file = calls_.open_new(path.c_str());
  if (file < 0) return fail(path, errno);
  // A failed sync is not tried again: the system may have dropped the data and report success next
  // time.
  const bool written = (write_all(file, bytes) && calls_.sync_file(file) == 0) || fail(path, errno);
  const bool closed = check(calls_.close(file), path);
  return written && closed;
}

bool Disk::link(const fs::path& from, const fs::path& to) {
  return check(calls_.link(from.c_str(), to.c_str()), from);
}

bool Disk::sync_folder(const fs::path& path) {
  const int folder = calls_.open_folder(path.c_str());
  if (folder < 0) return fail(path, errno);
  const bool synced = check(calls_.sync_file(folder), path);
  const bool closed = check(calls_.close(folder), path);
  return synced && closed;
}

bool Disk::sync_tree(const fs::path& path) {
  std::error_code error;
  for (fs::directory_iterator entry(path, error), end; !error && entry != end;
       entry.increment(error)) {
    const bool folder = entry->is_directory(error) && !entry->is_symlink(error);
    if (folder && !sync_tree(entry->path())) return false;
  }
  return error ? fail(path, error.value()) : sync_folder(path);
}

bool Disk::rename(const fs::path& from, const fs::path& to) {
  return check(calls_.rename(from.c_str(), to.c_str()), to);
}

bool Disk::exchange(const fs::path& a, const fs::path& b) {
  return check(calls_.exchange(a.c_str(), b.c_str()), b);
}

bool Disk::remove_tree(const fs::path& path) {
  std::error_code error;
  bool all = true;
  for (fs::directory_iterator entry(path, error), end; !error && entry != end;
       entry.increment(error)) {
    const bool folder = fs::is_directory(entry->symlink_status(error));
    const bool removed = folder ? remove_tree(entry->path())
                                : check(calls_.remove_file(entry->path().c_str()), entry->path());
    all = removed && all;
  }
  if (error) return fail(path, error.value());
  return check(calls_.remove_folder(path.c_str()), path) && all;
}

FolderLock::FolderLock(FileCalls& calls, const fs::path& path)
    : calls_(calls), file_(calls.open_folder(path.c_str())) {
  held_ = file_ >= 0 && calls_.lock(file_) == 0;
}

FolderLock::~FolderLock() {
  if (file_ >= 0) calls_.close(file_);
}

}  // namespace ribbay::detail

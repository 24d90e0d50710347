#pragma once

#include <sys/types.h>

#include <cstddef>

namespace ribbay {

/// The system calls that change the disk, one by one, so that a test can let any of them fail. Each
/// returns what the call of the same name returns, with errno set on failure.
class FileCalls {
 public:
  virtual ~FileCalls() = default;
  virtual int make_folder(const char* path);
  virtual int open_new(const char* path);     ///< for writing; fails when the path exists
  virtual int open_folder(const char* path);  ///< for sync_file() and lock()
  virtual ssize_t write(int file, const char* bytes, std::size_t count);
  virtual int sync_file(int file);
  virtual int close(int file);
  virtual int lock(int folder);  ///< exclusive, without waiting
  virtual int link(const char* from, const char* to);
  virtual int rename(const char* from, const char* to);
  virtual int exchange(const char* a, const char* b);
  virtual int remove_file(const char* path);
  virtual int remove_folder(const char* path);
};

}  // namespace ribbay

#include "app/file_calls.hpp"

#include <fcntl.h>
#include <linux/fs.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>

namespace ribbay {

int FileCalls::make_folder(const char* path) {
  return ::mkdir(path, 0777);
}

int FileCalls::open_new(const char* path) {
  return ::open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
}

int FileCalls::open_folder(const char* path) {
  return ::open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

ssize_t FileCalls::write(int file, const char* bytes, std::size_t count) {
  return ::write(file, bytes, count);
}

int FileCalls::sync_file(int file) {
  return ::fsync(file);
}
int FileCalls::close(int file) {
  return ::close(file);
}
int FileCalls::lock(int folder) {
  return ::flock(folder, LOCK_EX | LOCK_NB);
}

// Without following: a symbolic link is kept as what it is.
int FileCalls::link(const char* from, const char* to) {
  return ::linkat(AT_FDCWD, from, AT_FDCWD, to, 0);
}

int FileCalls::rename(const char* from, const char* to) {
  return ::rename(from, to);
}

int FileCalls::exchange(const char* a, const char* b) {
  return ::renameat2(AT_FDCWD, a, AT_FDCWD, b, RENAME_EXCHANGE);
}

int FileCalls::remove_file(const char* path) {
  return ::unlink(path);
}
int FileCalls::remove_folder(const char* path) {
  return ::rmdir(path);
}

}  // namespace ribbay

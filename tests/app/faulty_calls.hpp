#pragma once

#include "app/file_calls.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>

namespace ribbay {

/// Lets the n-th call fail, or it and all after it, or ends the process there as a kill would.
class FaultyCalls : public FileCalls {
 public:
  enum class Mode { count, once, from_then_on, kill };
  FaultyCalls(Mode mode, int nth, int error) : mode_(mode), nth_(nth), error_(error) {}
  int count() const { return count_; }

  int make_folder(const char* p) override { return faulty() ? -1 : FileCalls::make_folder(p); }
  int open_new(const char* p) override { return faulty() ? -1 : FileCalls::open_new(p); }
  int open_folder(const char* p) override { return faulty() ? -1 : FileCalls::open_folder(p); }
  ssize_t write(int file, const char* bytes, std::size_t count) override {
    // A disk that fills up takes a part first.
    const std::size_t some = std::min<std::size_t>(count, 30'000);
    return faulty() ? -1 : FileCalls::write(file, bytes, some);
  }
  int sync_file(int file) override { return faulty() ? -1 : FileCalls::sync_file(file); }
  int close(int file) override {
    const int result = FileCalls::close(file);
    return faulty() ? -1 : result;
  }
  int lock(int folder) override { return faulty() ? -1 : FileCalls::lock(folder); }
  int link(const char* a, const char* b) override { return faulty() ? -1 : FileCalls::link(a, b); }
  int rename(const char* a, const char* b) override {
    return faulty() ? -1 : FileCalls::rename(a, b);
  }
  int exchange(const char* a, const char* b) override {
    return faulty() ? -1 : FileCalls::exchange(a, b);
  }
  int remove_file(const char* p) override { return faulty() ? -1 : FileCalls::remove_file(p); }
  int remove_folder(const char* p) override { return faulty() ? -1 : FileCalls::remove_folder(p); }

 protected:
  bool faulty() {
    ++count_;
    const bool now = mode_ == Mode::from_then_on ? count_ >= nth_ : count_ == nth_;
    if (mode_ == Mode::count || !now) return false;
    if (mode_ == Mode::kill) ::_exit(9);
    errno = error_;
    return true;
  }

 private:
  Mode mode_;
  int nth_;
  int error_;
  int count_ = 0;
};

}  // namespace ribbay

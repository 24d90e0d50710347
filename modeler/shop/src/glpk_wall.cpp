#include "glpk_wall.hpp"

#include <glpk.h>

#include <csetjmp>

namespace ribbay::detail {

namespace {

struct Wall {
  std::jmp_buf way_out;
  int failures = 0;
  bool quiet = false;
};

Wall& wall() {
  static thread_local Wall of_this_thread;
  return of_this_thread;
}

extern "C" void leave_solver(void*) {
  std::longjmp(wall().way_out, 1);
}

extern "C" int swallow_text(void*, const char*) {
  return 1;
}

}  // namespace

int solver_failures() {
  return wall().failures;
}

// No object with a destructor may live in this frame.
bool run_behind_wall(void (*body)(void*), void* data) {
  Wall& here = wall();
  if (!here.quiet) glp_term_hook(swallow_text, nullptr);
  here.quiet = true;
  if (setjmp(here.way_out) == 0) {
    glp_error_hook(leave_solver, nullptr);
    body(data);
    glp_error_hook(nullptr, nullptr);
    return true;
  }
  glp_error_hook(nullptr, nullptr);
  glp_free_env();
  wall().quiet = false;
  ++wall().failures;
  return false;
}

}  // namespace ribbay::detail

#pragma once

#include <type_traits>

/// The integer solver leaves by longjmp or ends the program when something is wrong. Behind this
/// wall that becomes a value.
namespace ribbay::detail {

/// Counts failures of the solver in this thread. Each failure deletes every problem of the thread,
/// so a problem made at an earlier count is gone.
int solver_failures();

/// Calls `body(data)`; false when the solver failed in it.
bool run_behind_wall(void (*body)(void*), void* data);

/// Runs `body`, which must call nothing but the solver: a failure jumps over it, so it may own
/// nothing that has to be destroyed.
template <class Body>
bool behind_wall(Body body) {
  static_assert(std::is_trivially_destructible_v<Body>);
  return run_behind_wall([](void* data) { (*static_cast<Body*>(data))(); }, &body);
}

}  // namespace ribbay::detail

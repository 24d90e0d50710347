#pragma once

#include "motion_findings.hpp"
#include "sweep_pair.hpp"

#include <cstddef>
#include <limits>

/// What is worked out about things that move.
namespace ribbay::detail {

inline constexpr double kNever = std::numeric_limits<double>::infinity();

/// When two bodies meet. The pieces may reach beyond the true shapes by their `excess`: the true
/// contact comes between `least` and `most`.
struct Meeting {
  double least = kNever;
  double most = kNever;
};

struct Hit {
  Meeting meeting;
  std::size_t mover = 0;
  std::size_t obstacle = 0;
  Vec3 at;
};

/// Where two bodies that both move meet.
struct PairFound {
  Met met;
  PairMeeting told;
};

}  // namespace ribbay::detail

#pragma once

#include "movers.hpp"

/// Two sets of pieces that both move: whether they meet for any openings of the two.
namespace ribbay::detail {

/// A motion as far as `travel`: mm, or radians.
struct Moving {
  const Motion* motion = nullptr;
  double travel = 0.0;
};

/// Whether two sweeps meet: yes, no, or it could not be told.
enum class Answer { no, yes, open };

/// The smallest opening of the first at which the two can meet, and the smallest of the second with
/// it (of two that both turn: openings at which they do).
struct Met {
  Answer answer = Answer::no;
  double open_a = 0.0;
  double open_b = 0.0;
  std::size_t a = 0;  ///< the pieces that meet
  std::size_t b = 0;
};

/// What meets comes before what may; then the smaller openings.
bool comes_first(const Met& one, const Met& other);

Met sweeps_meet(const Pieces& a, const Moving& moving_a, const Pieces& b, const Moving& moving_b);

/// A point of contact at the openings found.
Vec3 meeting_place(const Pieces& a, const Moving& moving_a, const Pieces& b, const Moving& moving_b,
                   const Met& met);

}  // namespace ribbay::detail

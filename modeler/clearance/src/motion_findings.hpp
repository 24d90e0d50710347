#pragma once

#include "clearance/clearance.hpp"
#include "forerunners.hpp"

#include <string>

/// What is told about things that open.
namespace ribbay::detail {

/// A motion that something stops too early.
Finding motion_finding(const Motion& motion, const MotionResult& result);
/// Adds to such a finding that a motion before it does not go all its way.
void add_held(Finding& finding, const Start& start);
/// A note: the motion opens, judged where one before it is stopped too early.
Finding held_finding(const Start& start, const MotionResult& result);
/// The motion opens when the one before it is all open, and not when that one has gone only as far
/// as it must.
Finding early_finding(const Start& start, const MotionResult& result);

/// How near a motion comes to something on its way.
struct NarrowWay {
  std::string mover;
  std::string obstacle;
  double distance = 0.0;  ///< mm
  double open = 0.0;      ///< mm, or radians
  Vec3 at;                ///< in the gap, van axes
};
Finding tight_way_finding(const Motion& motion, const NarrowWay& way, double required);
Finding gap_way_finding(const Motion& motion, const NarrowWay& way, const Gap& gap);

/// Where two motions meet.
struct PairMeeting {
  std::string part_a;
  std::string part_b;
  double open_a = 0.0;  ///< how far they are open then: mm, or radians
  double open_b = 0.0;
  Vec3 at;              ///< a point of contact
  bool proven = false;
  bool beyond = false;  ///< not while both are open only as far as they must
};
Finding motion_pair_finding(const Motion& a, const Motion& b, const PairMeeting& meeting);

}  // namespace ribbay::detail

#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "layout/layout.hpp"

namespace ribbay {

/// How two bodies stand to each other.
enum class Verdict { clear, tight, touching, clash };

/// Two bodies that are closer than asked.
struct Contact {
  std::string a;
  std::string b;
  Verdict verdict = Verdict::clear;
  double separation = 0.0;   ///< mm; negative: depth of the overlap along `way`
  Vec3 way;                  ///< unit: moving a along it by the depth is the shortest way out
  Vec3 at;                   ///< van axes
  double volume = 0.0;       ///< of the overlap, mm3; 0 unless it is a clash
};

/// What stops a drawer or door.
struct MotionResult {
  std::string motion;
  double opens = 0.0;        ///< mm or radians until first contact, or the full travel
  bool blocked = false;      ///< stopped before the required travel
  std::string mover;         ///< part that hits
  std::string obstacle;      ///< what it hits
  Vec3 at;                   ///< where, van axes
};

struct ClearanceResult {
  std::vector<Contact> contacts;         ///< clash and tight pairs, and touching ones when asked
  std::vector<MotionResult> motions;     ///< one for each motion of the layout, in its order
  std::size_t bodies = 0;
  std::size_t pieces = 0;
  std::size_t pairs = 0;                 ///< pairs of bodies that were looked at closely
  Findings findings;
};

/// All clearance checks of a layout: static, against the van, inside the room, zones, gaps, motions.
ClearanceResult check_clearance(const Layout& layout, int jobs = 1);

}  // namespace ribbay

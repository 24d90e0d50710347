#pragma once

#include "base/finding.hpp"
#include "clearance/memo.hpp"
#include "layout/layout.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace ribbay {

/// How two bodies stand to each other.
enum class Verdict { clear, tight, touching, clash };

/// Two bodies that are closer than asked: parts, or bodies of the van.
struct Contact {
  std::string a;  ///< part id
  std::string b;  ///< part id or id of a body of the van
  Verdict verdict = Verdict::clear;
  double separation = 0.0;  ///< mm; negative: depth of the overlap along `way`
  Vec3 way;                 ///< unit: moving a along it by the depth is the shortest way out
  Vec3 at;                  ///< van axes
  double volume = 0.0;      ///< of the overlap, mm3; 0 unless it is a clash
  friend bool operator==(const Contact&, const Contact&) = default;
};

/// What stops a drawer or door.
struct MotionResult {
  std::string motion;
  double opens = 0.0;    ///< mm or radians until first contact, or the full travel
  bool blocked = false;  ///< stopped before the required travel
  std::string mover;     ///< part that hits
  std::string obstacle;  ///< what it hits
  Vec3 at;               ///< where, van axes
  /// When blocked and the motion has `gives_way`: the smallest shift to one side of what moves, mm,
  /// that lets it pass what it hits, all the way; 0: none known. It says nothing about other parts:
  /// confirm it by a rerun before advising it.
  double shift = 0.0;
  friend bool operator==(const MotionResult&, const MotionResult&) = default;
};

struct ClearanceResult {
  std::vector<Contact> contacts;      ///< clash and tight pairs, and touching ones when asked
  std::vector<MotionResult> motions;  ///< one for each motion of the layout, in its order
  std::size_t bodies = 0;
  std::size_t pieces = 0;
  std::size_t pairs = 0;  ///< pairs of bodies that were looked at closely
  std::size_t motion_pairs = 0;  ///< pairs of motions that may be open at once
  Findings findings;
};

/// All clearance checks of a layout: static, against the van, inside the room, zones, gaps,
/// motions. The result is the same for any number of `jobs` (threads), and with a `memo` of other
/// layouts or none. `list_touching` adds touching pairs to the contacts; they are never findings.
///
/// Pairs deeper than kContact clash. Pairs closer than Layout::tight are findings between modules,
/// towards the van and around equipment; not in joints, and not where a Gap names the pair.
/// "vehicle" in a Gap means the van without its floor. Not checked: hardware against its hosts and
/// against other hardware of the same host or joint, and floor bolts against the floor. Hardware
/// whose hosts all move rides along.
///
/// Findings: "clearance.clash", "clearance.finish" (a clash that there would not be without a
/// finish), "clearance.caught" (a note: two clashes press a part from opposite sides), "clearance.modules" (of two modules of which more than three pairs of
/// parts clash: the deepest), "clearance.tight", "clearance.gap", "clearance.zone", "clearance.outside",
/// "clearance.in_the_air" (in a van: nothing leads from a part to it), "clearance.not_whole" (a cut leaves a part in several bodies),
/// "clearance.tight_way" and "clearance.gap_way" (on the way of a motion a gap
/// gets narrower than it is where that begins, and than asked for, without contact; as far as it must
/// open, to within kOnWay; the least of each motion),
/// "clearance.motion", "clearance.motion_held" (the same, behind a motion that does not go all its
/// way), "clearance.motion_early" (it opens, and would not if the motion before it went only as far
/// as it must), "clearance.motion_behind" (a note: it opens, judged where the one before it is
/// stopped), "clearance.pair" (two drawers or doors meet at openings that both must reach; or not
/// proven), "clearance.pair_beyond" (only at openings beyond those), "clearance.scan" (the scanned
/// surface lies deeper in a part than the scan is certain to), "clearance.scan_touch" (a note), and
/// "clearance.undecided"
/// (not proven) where even the finest cover of an arc leaves open whether parts overlap.
/// "clearance.motion" carries `parameter` and `shift`; its advice is printed once the caller has
/// confirmed it and adds `value`, the parameter's new value. In pairs each motion counts as far as it
/// really opens; `open_a`, `open_b` and the place are where the two meet; two motions that move a
/// common part are not judged together.
ClearanceResult check_clearance(const Layout& layout, int jobs = 1, bool list_touching = false,
                                Memo* memo = nullptr);

}  // namespace ribbay

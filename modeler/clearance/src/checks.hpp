#pragma once

#include "bodies.hpp"
#include "broad_phase.hpp"
#include "clearance/clearance.hpp"

namespace ribbay::detail {

/// Each adds what it finds to `result`; the order does not depend on `jobs`.
///
/// Returns the pairs that were looked at: all that come near each other.
std::vector<IndexPair> check_pairs(const Scene& scene, int jobs, bool list_touching,
                                   ClearanceResult& result);
/// Of two modules with many clashing pairs of parts the deepest pair alone is told; after
/// check_pairs().
void join_module_clashes(const Scene& scene, ClearanceResult& result);
/// Parts that two clashes press from opposite sides: no move frees them of both. After
/// join_module_clashes().
void check_caught(const Scene& scene, ClearanceResult& result);
void check_gaps(const Scene& scene, int jobs, ClearanceResult& result);
void check_zones(const Scene& scene, int jobs, ClearanceResult& result);
void check_room(const Scene& scene, int jobs, ClearanceResult& result);
/// Parts that neither joints nor contact connect to the van; `pairs` are those that may touch. After check_room(): what
/// lies outside the room is told there.
void check_held(const Scene& scene, const std::vector<IndexPair>& pairs,
                ClearanceResult& result);
/// The parts against the scan of the van, if there is one; after check_pairs().
void check_scan(const Scene& scene, int jobs, ClearanceResult& result);
/// Made parts that a cut has left in several bodies.
void check_whole(const Scene& scene, int jobs, ClearanceResult& result);
/// Wood screws whose tip comes out of what they sit in.
void check_screws(const Scene& scene, int jobs, ClearanceResult& result);
/// Gaps beside high beds that are too wide to be closed and too narrow to be open.
void check_beds(const Scene& scene, ClearanceResult& result);
void check_motions(const Scene& scene, int jobs, ClearanceResult& result);
/// What comes nearer on its way than it is shut, and nearer than asked for; after check_motions().
void check_motion_gaps(const Scene& scene, int jobs, ClearanceResult& result);
/// Motions that may be open at once, two by two; after check_motions().
void check_motion_pairs(const Scene& scene, int jobs, ClearanceResult& result);

}  // namespace ribbay::detail

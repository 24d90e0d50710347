#pragma once

#include "base/box.hpp"
#include "clearance/memo.hpp"
#include "layout/layout.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace ribbay {

/// Two bodies near each other, as laid out or on the way of a motion.
struct NearPair {
  std::string a;          ///< part id; in a motion the part that moves
  std::string b;          ///< part id or id of a body of the van
  double distance = 0.0;  ///< mm; negative: as deep as the deepest pair of their pieces overlaps
  Vec3 way;               ///< unit: from a to b across the gap
  Vec3 at;                ///< in the gap, van axes
  /// What of both faces each other no further apart than asked for by `face`: across the gap it is
  /// as thick as the gap, and the two other sizes are those of the common face. Faces askew to the
  /// axes of the van look larger than they are.
  Box face;
};

/// The least gap on the way of a drawer, and what keeps it from being more.
struct NearMotion {
  std::size_t motion = 0;  ///< index into Layout::motions
  NearPair pair;
};

struct NearResult {
  std::vector<NearPair> pairs;      ///< sorted by ids; parts come before bodies of the van
  std::vector<NearMotion> motions;  ///< in the layout's order; those with a gap below `within`
};

/// Something that more room is looked at around than around the rest.
struct NearFurther {
  std::string name;     ///< a part id, a module, "vehicle" or the id of one body of the van
  double within = 0.0;  ///< mm
};

struct NearOptions {
  double within = 0.0;  ///< mm: pairs no further apart
  double face = 0.0;    ///< mm: pieces no further apart count in NearPair::face
  std::vector<NearFurther> further{};  ///< pairs of which one or the other is named; motions not
  int jobs = 1;
  Memo* memo = nullptr;
};

/// Pairs of parts, and of parts and bodies of the van, that are near each other, those that touch or
/// overlap too. Left out: hardware, which sits in what it fastens, and pairs that clearance does not
/// check either. Over-covered arcs may bring bodies nearer than they are, by what their pieces'
/// excess says.
///
/// Motions: a straight one is judged over all its way, as one convex piece for each piece that
/// moves. A turning one is judged as it is laid out, shut; what it meets on its way is told by
/// check_clearance(). What touches a motion is what it runs on or shuts against, and is no gap; nor is what it
/// stops short of when it is shut.
NearResult near_bodies(const Layout& layout, const NearOptions& options);

}  // namespace ribbay

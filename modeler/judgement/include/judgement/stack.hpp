#pragma once

#include <string>
#include <vector>

namespace ribbay {

/// One thing that may be off, and by how much a gap changes with it.
struct Contributor {
  std::string what;        ///< "saw", "sheet birch_18", "survey", ...
  std::string of;          ///< part id, module, or body of the van
  double tolerance = 0.0;  ///< plus or minus, mm
  friend bool operator==(const Contributor&, const Contributor&) = default;
};

/// How far a gap may be off when all that it hangs on is.
struct Stack {
  std::vector<Contributor> contributors;  ///< the largest first
  double worst = 0.0;                     ///< worst case: the sum of all, plus or minus, mm
  double rss = 0.0;                       ///< root of the sum of squares, plus or minus, mm

  /// Of a contributor in the square of `rss`, 0 to 1; 0 when nothing is off.
  double share(const Contributor& contributor) const;
};

/// The contributors' order does not matter. Those that are off by nothing are left out.
/// Root-sum-square takes them as independent and the tolerances as equally likely to be met; what
/// is not independent must come as one contributor.
Stack make_stack(std::vector<Contributor> contributors);

}  // namespace ribbay

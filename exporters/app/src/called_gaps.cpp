#include "called_gaps.hpp"

namespace ribbay::detail {

std::vector<CalledGap> called_gaps(const Judgement& judgement) {
  std::vector<CalledGap> called;
  for (const JudgedGap& gap : judgement.gaps) {
    if (gap.kind != GapKind::asked && gap.kind != GapKind::modules && gap.kind != GapKind::van)
      continue;
    called.push_back({gap.a, gap.b, gap.axis, gap.nominal, gap.least(), gap.at});
  }
  return called;
}

}  // namespace ribbay::detail

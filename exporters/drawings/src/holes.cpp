#include "drawings/holes.hpp"

#include "base/tolerance.hpp"

#include <cmath>

namespace ribbay {

const char* word(CutRole role) {
  switch (role) {
    case CutRole::cut_out:
      return "Cut-out";
    case CutRole::notch:
      return "Notch";
    case CutRole::dado:
      return "Dado";
    case CutRole::rebate:
      return "Rebate";
    case CutRole::groove:
      return "Groove";
    case CutRole::toe_space:
      return "Toe space";
  }
  return "";
}

std::string diameter_text(const Bore& bore, LengthStyle show) {
  return bore.thread.empty() ? "Ø" + length_text(bore.diameter, show) : bore.thread;
}

std::string depth_text(const Bore& bore, LengthStyle show) {
  return bore.through ? "through" : length_text(bore.depth, show);
}

std::string hole_text(const Bore& bore, LengthStyle show) {
  return diameter_text(bore, show) +
         (bore.through ? " through" : " ↧ " + length_text(bore.depth, show));
}

bool same_drill(const Bore& a, const Bore& b) {
  return std::abs(a.diameter - b.diameter) < kSame && a.through == b.through &&
         (a.through || std::abs(a.depth - b.depth) < kSame) && a.thread == b.thread &&
         a.role == b.role;
}

}  // namespace ribbay

#include "drawings/holes.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"

#include <cmath>

namespace ribbay {

std::string word(CutRole role) {
  switch (role) {
    case CutRole::cut_out:
      return say("cut.cut_out");
    case CutRole::notch:
      return say("cut.notch");
    case CutRole::dado:
      return say("cut.dado");
    case CutRole::rebate:
      return say("cut.rebate");
    case CutRole::groove:
      return say("cut.groove");
    case CutRole::toe_space:
      return say("cut.toe_space");
  }
  return "";
}

std::string diameter_text(const Bore& bore, LengthStyle show) {
  return bore.thread.empty() ? "Ø" + length_text(bore.diameter, show) : bore.thread;
}

std::string depth_text(const Bore& bore, LengthStyle show) {
  return bore.through ? say("through") : length_text(bore.depth, show);
}

std::string hole_text(const Bore& bore, LengthStyle show) {
  const std::string drill = diameter_text(bore, show);
  return bore.through ? say("hole.through", {{"drill", drill}})
                      : drill + " ↧ " + length_text(bore.depth, show);
}

std::string sunk_text(const Bore& bore, LengthStyle show) {
  const std::string drill = diameter_text(bore, show);
  return bore.role == BoreRole::screw
             ? say("hole.countersunk", {{"drill", drill}})
             : say("hole.counterbored",
                   {{"drill", drill}, {"depth", length_text(bore.depth, show)}});
}

bool same_drill(const Bore& a, const Bore& b) {
  return std::abs(a.diameter - b.diameter) < kSame && a.through == b.through &&
         (a.through || std::abs(a.depth - b.depth) < kSame) && a.thread == b.thread &&
         a.role == b.role;
}

}  // namespace ribbay

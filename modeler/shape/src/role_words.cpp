#include "shape/role_words.hpp"

#include "base/wording.hpp"

namespace ribbay {

std::string name(BoreRole role) {
  switch (role) {
    case BoreRole::bolt:
      return say("bore.bolt");
    case BoreRole::screw:
      return say("bore.screw");
    case BoreRole::pilot:
      return say("bore.pilot");
    case BoreRole::end_tap:
      return say("bore.end_tap");
    case BoreRole::access:
      return say("bore.access");
    case BoreRole::shelf_pin:
      return say("bore.shelf_pin");
    case BoreRole::cup:
      return say("bore.hinge_cup");
    case BoreRole::handle:
      return say("bore.handle");
    case BoreRole::dowel:
      break;
  }
  return say("bore.dowel");
}

}  // namespace ribbay

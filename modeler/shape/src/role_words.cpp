#include "shape/role_words.hpp"

namespace ribbay {

std::string_view name(BoreRole role) {
  switch (role) {
    case BoreRole::bolt:
      return "bolt";
    case BoreRole::screw:
      return "screw";
    case BoreRole::pilot:
      return "pilot";
    case BoreRole::end_tap:
      return "end tap";
    case BoreRole::access:
      return "access";
    case BoreRole::shelf_pin:
      return "shelf pin";
    case BoreRole::cup:
      return "hinge cup";
    case BoreRole::handle:
      return "handle";
    case BoreRole::dowel:
      break;
  }
  return "dowel";
}

}  // namespace ribbay

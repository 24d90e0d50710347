#pragma once

#include "carcass.hpp"

/// Lids and flaps on butt hinges.
namespace ribbay::detail {

/// One board at a butt hinge. Directions are unit axes of the module.
struct HingeHost {
  std::string board;
  Vec3 across;        ///< from the pin over the face that the hinge's leaf lies on
  Vec3 into;          ///< from that face into the board
  double face = 0.0;  ///< how far the face reaches from the pin
};

/// A flap and what it turns on. The pin lies one leaf's thickness in front of both faces.
struct HingedFlap {
  std::string name;   ///< "lid_1": its hinges are NAME.hinge_1 and so on
  std::string title;  ///< "Lid 1"
  AskedBy asked;      ///< the field that names the hinge
  Vec3 pin;           ///< on the axis
  Vec3 along;         ///< unit: the axis
  double from = 0.0;  ///< the edge, as places along it
  double to = 0.0;
  HingeHost fixed;
  HingeHost moving;
  Vec3 arm;             ///< unit: from the axis into the flap
  Vec3 towards;         ///< unit: where its free edge goes first
  double angle = 0.0;   ///< between the hinge's leaves when the flap is closed, radians
  double opens = 0.0;   ///< how far it must turn
  bool spreads = true;  ///< the leaves part as it turns; else they close
};

/// Adds the hinges, a continuous one over the whole edge, else one near each end and one in the
/// middle of a long edge, and returns the flap's motion with `parts` and what moves of the hinges.
/// Nullopt after "carcass.hinge_too_wide", "carcass.hinge_too_long" or
/// "carcass.hinge_opens_too_little".
std::optional<Motion> hang_flap(const Carcass& carcass, const HingedFlap& flap,
                                const ButtHinge& hinge, std::vector<std::string> parts);

}  // namespace ribbay::detail

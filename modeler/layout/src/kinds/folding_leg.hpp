#pragma once

#include "carcass.hpp"

/// Legs that fold: of tables and bunks.
namespace ribbay::detail {

/// Where a folding leg is fixed.
struct FoldingLeg {
  std::string name;        ///< "leg"; its motion has the same
  std::string title;       ///< "Table leg"
  AskedBy asked;           ///< the field that names its fitting; its screw is `NAME_screw`
  Vec3 at;                 ///< middle of its plate, on the face that it is screwed to, which looks down
  Vec3 along;              ///< unit: the way it lies when it is folded
  std::string board;       ///< that carries it
  bool folded = false;     ///< as laid out; else it stands on the floor
  Vec3 brought{};          ///< how far its carrier goes before the leg moves
  std::string after{};     ///< id of the motion that does that, or empty
};

/// What the module calls its leg, and what moves with its carrier; empty without a leg.
struct Leg {
  std::string motion;
  std::vector<std::string> parts;
};

/// The leg with its screws and the motion that folds or unfolds it. Reports "carcass.item_missing"
/// for its screws, "carcass.leg_fixed" and "carcass.leg_length".
Leg add_folding_leg(const Carcass& carcass, const FoldingLeg& leg);

}  // namespace ribbay::detail

#pragma once

#include "assembly/assembly.hpp"
#include "stage.hpp"

#include <vector>

namespace ribbay::detail {

/// One unit comes off; or, the other way round in time, is brought in.
struct Move {
  std::size_t unit = 0;
  Vec3 way;             ///< that it comes off
  double travel = 0.0;  ///< the stretch on which it slides or is held, mm
  double clear = 0.0;   ///< until it is clear of the stage, mm
  Vec3 then{};          ///< the way on after `travel`, when `way` ends there; else zero
  bool straight = true;
  bool held = true;  ///< as AssemblyStep::held
  struct Undone {
    std::size_t item = 0;
    Reach reach = Reach::straight;
    std::string stopper{};  ///< of the straight driver, when nothing reaches it
  };
  std::vector<Undone> items;            ///< hardware that goes with this step
  std::vector<std::string> stoppers{};  ///< when nothing straight was found: what held it
};

/// Takes the stage apart, all of it, and returns the moves in the order of assembly: the last that
/// came off first.
std::vector<Move> take_apart(const Stage& stage);

/// The bolts and screws between the units, or to what stands already, with what drives them while
/// all stands.
std::vector<Move::Undone> fixing_tools(const Stage& stage);

}  // namespace ribbay::detail

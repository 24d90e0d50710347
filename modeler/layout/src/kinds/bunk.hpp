#pragma once

#include "kind.hpp"
#include "workshop.hpp"

#include <string>
#include <vector>

/// The bunk in parts: bunk.cpp reads its fields, bunk_frame.cpp makes bearers and beams,
/// bunk_deck.cpp deck and guard.
namespace ribbay::detail {

/// Beams from wall to wall on bearers, with a deck on them and a guard at the front.
///
///     x: wall | bearer leg | beam ............ | bearer leg | wall      y: guard | beams, deck z:
///     up
struct BunkWork {
  explicit BunkWork(const ModuleRequest& module);

  const ModuleRequest& request;
  Workshop shop;
  const Profile& beam;
  const Profile& bearer;
  const Sheet& deck;
  bool flat;
  const Sheet* guard = nullptr;  ///< or null
  double beam_height = 0.0;      ///< as it lies
  double beam_width = 0.0;
  double leg_thickness = 0.0;  ///< of the bearer's lying leg
  double front = 0.0;          ///< y behind the guard
  double beams_bottom = 0.0;
  double deck_bottom = 0.0;
  double deck_top = 0.0;
  std::vector<double> beam_y{};
  std::vector<Board> boards{};  ///< deck and guard, until all their holes are known
  std::vector<Bar> beams{};     ///< likewise

  /// Offset of the beam bolt from the beam's middle: beside the web of an upright I-beam.
  double bolt_offset() const {
    return beam.family == ProfileFamily::i_beam && !flat ? beam_width * 0.3 : 0.0;
  }
  double bolt_x(bool left) const {
    const double from_wall = leg_thickness + (bearer.width - leg_thickness) / 2;
    return left ? from_wall : request.size.x - from_wall;
  }
  static std::string beam_name(std::size_t i) { return "beam_" + std::to_string(i + 1); }

  static std::string bolt_name(const ModuleRequest& request, std::size_t i, bool left) {
    return beam_name(i) + ".bolt_" + (left ? request.left() : request.right());
  }

  /// The section of a beam as it lies.
  Region upright() const;
};

/// Where a line x = const cuts a region: rising y of every crossing, in pairs. Arcs are taken as
/// chords.
std::vector<double> crossings(const Region& region, double x);
/// Thickness of an angle's lying leg, between the root's fillet and the toe's.
double lying_leg(const Profile& angle);

/// Bearers, with their bolts into the ribs that they pass.
void add_bearers(BunkWork& work);
/// Beams on the bench, with their bolts into the bearers.
void add_beams(BunkWork& work);
/// Height above a beam's underside where the head of its bolt rests: on the lowest wall that it
/// passes, or on the beam's top when it is hollow.
double head_seat(const BunkWork& work);

/// Panels or slats on the beams, and the guard, on the bench.
void add_deck(BunkWork& work);
void add_guard(BunkWork& work);

/// The bed from `front` to the back, and the room kept clear above it when the fields ask for that.
void add_bed(Workshop& shop, const ModuleRequest& request, double front, double deck_top);

/// Heights of a bunk that its guard is judged by, module axes.
struct GuardHeights {
  double deck_underside = 0.0;
  double deck_top = 0.0;
};
/// Warns "bunk.low_guard" when a bunk lies high and its guard, or what is none, ends too low.
void check_guard(Workshop& shop, const ModuleRequest& request, const GuardHeights& heights);

}  // namespace ribbay::detail

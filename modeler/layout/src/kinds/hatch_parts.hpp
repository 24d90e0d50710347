#pragma once

#include "finishes.hpp"
#include "workshop.hpp"

#include <string>
#include <vector>

/// The parts of an access hatch, for modules that are one and for openings that have one: a ring
/// that lies on its host around an opening, and a lid in it or on it.
///
/// A hatch has axes of its own: the origin in the middle of the opening on the face of its host, x
/// to the right, y up, z the way its lid is taken off.
namespace ribbay::detail {

struct HatchForm {
  bool round = false;
  bool rebated = true;    ///< the lid lies flush in the ring, not on it
  Vec2 clear;             ///< opening through the ring
  double radius = 0.0;    ///< of its corners
  double flange = 0.0;    ///< width of the ring
  double ledge = 0.0;     ///< the part of it that the lid lies on
  double play = 0.0;      ///< between a lid and the rebate it lies in
  double hole_gap = 0.0;  ///< by which the host's opening is larger all round
  const Sheet* ring = nullptr;
  const Sheet* lid = nullptr;

  /// Size of the outline that lies `beyond` the clear opening on all sides.
  Vec2 size(double beyond) const { return clear + Vec2{2 * beyond, 2 * beyond}; }
  /// That outline, counter-clockwise about the origin.
  Loop outline(double beyond) const;
  /// Places along it, no more than `pitch` apart, away from the corners.
  std::vector<Vec2> along(double beyond, double pitch) const;
  /// How far the hatch stands out from its host.
  double depth() const;
  /// How far the lid reaches beyond the clear opening.
  double lid_beyond() const { return rebated ? ledge - play : ledge; }
};

/// Where a hatch is made.
struct HatchPlace {
  std::string prefix;              ///< of its parts' names: "" or "hatch.window."
  Frame frame;                     ///< hatch to module; on the host as it is covered
  std::vector<std::string> hosts;  ///< ids of the parts it is screwed to
  double behind = 0.0;             ///< how thick those are with their coverings; 0: not known
};

/// The fields that describe a hatch.
std::vector<Field> hatch_fields();
/// As written, for that opening in the host when `in_host`, else for that clear opening.
HatchForm read_hatch(const Record& fields, const Catalogue& catalogue, Vec2 opening, bool in_host);

/// Makes hatches in one module.
class HatchMaker {
 public:
  HatchMaker(const ModuleRequest& request, Workshop& shop) : r_{request}, shop_{shop} {}

  /// Reports what cannot be made at the fields; nothing is made then.
  bool can_be_made(const HatchForm& form, const Record& fields);
  /// Makes ring, lid and what holds them, with the lid's motion and removal; returns where the
  /// ring's screws go into the host, in the hatch's axes.
  std::vector<Vec2> make(const HatchForm& form, const Record& fields, const HatchPlace& place);
  /// Reports the ribs of the wall behind that stand across the opening or the ring.
  void check_ribs(const HatchForm& form, const Record& fields, const HatchPlace& place,
                  VanSide side);

 private:
  void add_ring(const HatchForm& form, const Record& fields, const HatchPlace& place,
                std::vector<Vec2>& screwed);
  void add_lid(const HatchForm& form, const Record& fields, const HatchPlace& place);
  /// What the module's finishes add to a side of ring or lid.
  double covering(const HatchPlace& place, const char* part, BoardSide side) const;
  void check_screw(const Record& fields, const char* field, const HatchPlace& place, double through,
                   double least, double most);
  void check_latch(const HatchForm& form, const Record& fields, const HatchPlace& place,
                   const Fitting& latch);

  const ModuleRequest& r_;
  Workshop& shop_;
};

}  // namespace ribbay::detail

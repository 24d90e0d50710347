#pragma once

#include "carcass.hpp"

/// Leaves on concealed hinges: doors that swing, flaps that lift or drop.
namespace ribbay::detail {

/// Half of what a hinge's mounting plate takes of the height, about the hinge's middle.
inline constexpr double kHingePlate = 25.0;

/// A leaf in front of a carcass, and the board that its hinges' plates sit on. All directions are
/// unit axes of the module.
struct HungLeaf {
  std::string name;   ///< "door.first": the board NAME.leaf, hinges NAME.hinge_1 and so on
  std::string title;  ///< "first": "Hinge 1 of first"
  std::string board;  ///< that carries it
  Vec3 face;          ///< on its hinge edge, on its outer face, where the edge begins
  Vec3 back;          ///< on its hinge edge, on its back
  Vec3 plate;         ///< on the carrying board's face, at the front of the carcass
  Vec3 along;         ///< the hinge edge
  Vec3 inward;        ///< from the hinge edge into the leaf
  Vec3 out;           ///< the way it looks
  std::string screw = "slide_screw";  ///< the module's field that names all screws
  std::string leaf{};                 ///< the board, where it is not called NAME.leaf
  std::string leaf_name() const { return leaf.empty() ? name + ".leaf" : leaf; }
};

/// Places of the hinges along an edge from `from` to `to`, rising: the outer ones `from_end` from
/// its ends, a third in the middle of a long one, moved by `shift`.
std::vector<double> hinge_places(double from, double to, double from_end, double shift);

/// Reports "carcass.door_binds" when the leaf's edge would swing back against the carcass, which is
/// `buffer` behind it, as the module's field `buffer` says or `gap` in words; and
/// "carcass.cup_too_deep".
bool hinge_fits(const Carcass& carcass, const AskedBy& asked, const Hinge& hinge,
                const Sheet& sheet, double buffer, const std::string& gap = {});

/// Adds the hinges at these places along the edge, cups in the leaf and plates on its carrier, all
/// held by screws; returns the leaf's motion, which opens as far as the hinges do.
Motion hang(const Carcass& carcass, const HungLeaf& leaf, const Hinge& hinge,
            const std::vector<double>& places);

}  // namespace ribbay::detail

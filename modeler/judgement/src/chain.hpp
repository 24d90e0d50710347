#pragma once

#include "base/box.hpp"
#include "clearance/near.hpp"
#include "judgement/stack.hpp"
#include "layout/layout.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// What stands between two faces of a layout.
namespace ribbay::detail {

/// A vector's coordinate along an axis of the van.
inline double along(Vec3 v, int axis) { return axis == 0 ? v.x : axis == 1 ? v.y : v.z; }

/// A face of a part, across an axis of the van.
struct Face {
  std::size_t part = 0;  ///< index into Layout::parts
  double at = 0.0;       ///< along the axis, mm
};

/// Takes in one more. Pieces of one sheet are off by the same thickness: they are one contributor.
void add(std::vector<Contributor>& all, const Contributor& more);

class Chains {
 public:
  Chains(const Layout& layout, const std::vector<NearPair>& pairs);

  /// Contributors between two faces of one module by the way that adds least; nullopt when neither
  /// joint nor contact leads from one to the other.
  std::optional<std::vector<Contributor>> between(Face from, Face to, int axis) const;
  /// The same from a face to the outermost face of its module, on its high side or low one.
  std::optional<std::vector<Contributor>> to_side(Face from, int axis, bool high) const;

  std::size_t index(std::string_view part) const { return index_.at(part); }
  bool is_part(std::string_view id) const { return index_.contains(id); }
  const Part& part(std::size_t i) const { return layout_.parts[i]; }
  const Box& box(std::size_t i) const { return boxes_[i]; }
  bool moves(std::size_t i) const { return motion_[i] != kFixed; }
  /// True when both belong to one drawer or door.
  bool same_motion(std::size_t a, std::size_t b) const {
    return moves(a) && motion_[a] == motion_[b];
  }
  /// True when a joint or a piece of hardware holds both.
  bool held_together(std::size_t a, std::size_t b) const;
  bool in_a_joint(std::size_t i) const { return !held_[i].empty(); }
  /// True when `is` says so of something that the part is fastened to or by.
  template <class F>
  bool any_held(std::size_t i, F is) const {
    return std::ranges::any_of(held_[i], [&](std::size_t k) { return is(layout_.parts[k]); });
  }
  /// True when hardware fastens the part to the van.
  bool fastened_to_van(std::size_t i) const { return on_van_[i] != 0; }

 private:
  static constexpr std::size_t kFixed = static_cast<std::size_t>(-1);
  void link(std::size_t a, std::size_t b);
  void hold(std::size_t a, std::size_t b);
  void add_joints();
  void add_hosts();
  void add_motions();
  /// By how much a size of the part along the axis may be off.
  Contributor size_of(std::size_t part, int axis) const;
  /// Where two linked parts meet face to face across the axis, if they do.
  std::optional<double> seat(std::size_t a, std::size_t b, int axis) const;
  /// The least that leads to a face for which `reached` tells where on the part it lies.
  template <class F>
  std::optional<std::vector<Contributor>> search(Face from, int axis, F reached) const;

  const Layout& layout_;
  std::map<std::string_view, std::size_t> index_;
  std::vector<Box> boxes_;
  std::vector<std::vector<std::size_t>> links_;  ///< what each part touches or is fastened to, rising
  std::vector<std::vector<std::size_t>> held_;   ///< what it is fastened to, rising
  std::vector<std::size_t> motion_;              ///< that the part belongs to, or kFixed
  std::vector<char> on_van_;
};

}  // namespace ribbay::detail

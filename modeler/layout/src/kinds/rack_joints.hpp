#pragma once

#include "joints.hpp"

#include <string>
#include <vector>

/// How the rails of a rack are held to its posts.
namespace ribbay::detail {

/// One end of a rail at a post.
struct RailEnd {
  std::string name;  ///< "level_1.bay_1.front.left"
  std::string rail;  ///< names without the module
  std::string post;
  Vec3 along;               ///< unit: from the post into the rail
  Vec3 face;                ///< unit: the way that rail and post look outwards
  Vec3 leg;                 ///< unit: up or down, where a bracket or plate reaches along the post
  Vec3 corner;              ///< of a bracket: on both of its faces, in the middle of its width
  bool bolts_apart = true;  ///< a driver reaches the post from its far side
  bool plate_apart = true;  ///< the outward faces are free for a plate
};

/// The joint that a rack's fields ask for.
class RackJoints {
 public:
  RackJoints(const ModuleRequest& request, Workshop& shop);

  /// False, and reported as "rack.joint_needs", when the joint lacks what it is made with.
  bool usable();
  bool connectors() const { return kind_ == "hidden connector"; }
  /// True when this end is held by a bracket: where the joint asked for has no room.
  bool bracketed(const RailEnd& end) const;

  /// Drills rails and posts that are still on the bench; adds the hardware.
  void drill(Workpieces& bench, const std::vector<RailEnd>& ends);
  /// The brackets, between rails and posts that are made.
  void add_brackets(const std::vector<RailEnd>& ends);

  /// The fields of a rack that say how it is joined.
  static std::vector<Field> fields();

 private:
  void drill(const Pair& pair, const RailEnd& end);
  const ModuleRequest& request_;
  Workshop& shop_;
  const std::string& kind_;
};

}  // namespace ribbay::detail

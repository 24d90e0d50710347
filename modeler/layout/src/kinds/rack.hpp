#pragma once

#include "rack_joints.hpp"
#include "workshop.hpp"

#include <optional>
#include <string>
#include <vector>

/// The rack in parts: rack.cpp reads its fields, rack_frame.cpp makes posts, rails and feet,
/// rack_contents.cpp what is in the frame: shelves, equipment, infill.
namespace ribbay::detail {

/// Room that a notch leaves around a bracket.
inline constexpr double kBracketAir = 2.0;

/// A frame of slotted profile: posts between floor and top, rails between the posts at each level,
/// brackets in the corners.
///
///     x: post | bay 1 | post | bay 2 | post        y: front 0 .. depth        z: level = underside
///     of rails
struct RackWork {
  struct ShelfPlace {
    std::size_t level = 0;
    std::optional<std::size_t> bay;  ///< else all
    double top = 0.0;
  };

  explicit RackWork(const ModuleRequest& module);

  const ModuleRequest& request;
  Workshop shop;
  RackJoints joints;
  const Profile& profile;
  const Bracket& bracket;
  std::vector<double> levels;
  double side;  ///< of the square profile
  double depth;
  std::vector<double> lines{};  ///< x of the post lines' middles
  Workpieces bench{};           ///< posts and rails, until they are drilled
  std::vector<RailEnd> ends{};
  std::vector<ShelfPlace> shelves{};

  std::size_t bays() const { return lines.size() - 1; }
  double bay_left(std::size_t bay) const { return lines[bay] + side / 2; }
  double bay_right(std::size_t bay) const { return lines[bay + 1] - side / 2; }
  double rail_top(std::size_t level) const { return levels[level] + side; }
  /// Brackets sit below the rails; where the floor leaves no room below, above them.
  bool brackets_above(std::size_t level) const;
  /// True when brackets hold some rail at this post line.
  bool has_brackets(std::size_t line) const;

  /// Post lines count from the left: "left", "1" (after bay 1), ..., "right".
  std::string line(std::size_t index) const;
  std::string post_name(const char* row, std::size_t index) const {
    return "post." + std::string(row) + "_" + line(index);
  }
  std::string post(const char* row, std::size_t index) const {
    return shop.id(post_name(row, index));
  }
  static std::string level_name(std::size_t level) { return "level_" + std::to_string(level + 1); }
  static std::string bay_name(std::size_t bay) { return "bay_" + std::to_string(bay + 1); }
};

/// Posts and rails with the joints between them.
void make_rack_frame(RackWork& work);
/// Feet beside the lowest side rails where these cross a floor joist, so that each bolt has wood or
/// steel under it.
void add_rack_feet(RackWork& work);
/// Shelves on the rails, equipment on these or on seat rails of its own, panels in the slots.
void make_rack_contents(RackWork& work);

}  // namespace ribbay::detail

#pragma once

#include "base/vec.hpp"

#include <optional>
#include <string>
#include <vector>

/// What the survey of a van says about the room and what stands in it. All lengths in mm, in van
/// axes.
namespace ribbay {

enum class VanSide { left, right };

/// What a station's half widths lie on. Ribs and bows stand into the room only where it is the
/// skin: the other two already lie at or in front of them. The stations of a vehicle that has been
/// read all lie on the same surface: what was measured to different ones is brought to the skin.
enum class Surveyed { skin, rib_face, lining };

/// Half width of the room at a height, on one side.
struct WallPoint {
  double z = 0.0;
  double half_width = 0.0;
  double uncertainty = 0.0;  ///< of the half width, plus or minus
};

/// A cross-section of the room at one x. Points rise from the floor to the roof; the last points of
/// both sides meet the roof line, which joins them.
struct Station {
  std::string name;
  double x = 0.0;
  std::vector<WallPoint> left;
  std::vector<WallPoint> right;
  Surveyed surveyed = Surveyed::skin;
  double uncertainty = 0.0;  ///< the largest of its points
  /// Widths from wall to wall as taped, one for each height of a station with equal heights left
  /// and right; empty when none were. They lie on the same surface as the points.
  std::vector<double> full{};
  std::string note{};  ///< what the surveyor wanted to remember
};

/// One end of a taped diagonal, on the surface that was measured.
struct DiagonalEnd {
  Vec3 at;
  double uncertainty = 0.0;  ///< of the half width there; 0 when the point was given as x, y, z
  std::string station{};     ///< the station it lies on; empty when given as x, y, z
};

/// A distance taped from point to point, to check a survey by.
struct Diagonal {
  std::string name;
  DiagonalEnd from;
  DiagonalEnd to;
  double length = 0.0;
};

enum class RibSection { box, channel, hat, solid };

/// A rib that stands into the room from the skin, following the wall between two heights. Its face
/// is the wall shifted level (along y) by `depth`.
struct Rib {
  std::string name;
  VanSide side = VanSide::left;
  double x = 0.0;      ///< its middle
  double width = 0.0;  ///< along x
  double depth = 0.0;  ///< into the room
  double from = 0.0;   ///< heights
  double to = 0.0;
  std::optional<RibSection> section{};  ///< nullopt: not known
  double wall = 0.0;                    ///< thickness of its sheet; 0: not known
  bool steel = true;                    ///< a magnet holds on it
};

/// A row of ribs at one pitch whose last one was measured too, to check a survey by.
struct RibRow {
  std::string name;
  double x = 0.0;  ///< middle of the first one
  int count = 1;
  double pitch = 0.0;  ///< 0: not given
  double last = 0.0;   ///< middle of the last one as measured
};

/// A bow under the roof, across the van. Its face is the roof shifted down by `depth`.
struct Bow {
  std::string name;
  double x = 0.0;      ///< its middle
  double width = 0.0;  ///< along x
  double depth = 0.0;  ///< down from the roof
  double from = 0.0;   ///< y of its ends, as far as the roof reaches
  double to = 0.0;
  bool steel = true;
};

/// A wheel arch: a block with rounded upper edges against the wall.
struct WheelArch {
  std::string name;
  VanSide side = VanSide::left;
  double from = 0.0;  ///< x
  double to = 0.0;
  double height = 0.0;
  double half_width = 0.0;   ///< distance of its inboard face from the centre line
  double radius = 0.0;       ///< of the rounded ends of its top, seen from the side
  double edge_radius = 0.0;  ///< of its inboard upper edge, seen from behind
};

enum class OpeningKind { sliding, hinged, rear };
enum class LeafSwing { out, in, slides };

/// The door in an opening, as the room sees it.
struct Leaf {
  double intrudes = 0.0;  ///< how far it stands into the room beyond the wall when closed
  LeafSwing swing = LeafSwing::out;
  double clear_way = 0.0;  ///< depth of the floor inside that must stay free
};

/// A door opening. Side openings lie in a wall, the rear one in the plane x = 0.
struct Opening {
  std::string name;
  OpeningKind kind = OpeningKind::rear;
  VanSide side = VanSide::right;  ///< of a side opening
  double from = 0.0;              ///< x of a side opening; y of the rear one
  double to = 0.0;
  double bottom = 0.0;
  double top = 0.0;
  Leaf leaf{};
};

/// A hole in the inner sheet of a channel.
struct AccessHole {
  double x = 0.0;  ///< its middle
  double width = 0.0;
  double height = 0.0;
};

/// Room behind the wall along a sill, where cables and hoses can run.
struct Channel {
  std::string name;
  VanSide side = VanSide::left;
  double from = 0.0;  ///< x
  double to = 0.0;
  double bottom = 0.0;
  double top = 0.0;
  double depth = 0.0;  ///< behind the wall
  std::vector<AccessHole> holes{};
};

}  // namespace ribbay

#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/pieces.hpp"
#include "spec/document.hpp"
#include "spec/schema.hpp"

namespace ribbay {

enum class VanSide { left, right };

/// What a station's half widths were measured to.
enum class Surveyed { skin, rib_face, lining };

/// Half width of the room at a height, on one side, mm.
struct WallPoint {
  double z = 0.0;
  double half_width = 0.0;
};

/// A cross-section of the room at one x. Points rise from the floor to the roof; the last points of both
/// sides meet the roof line, which joins them.
struct Station {
  double x = 0.0;
  std::vector<WallPoint> left;
  std::vector<WallPoint> right;
  Surveyed surveyed = Surveyed::skin;
  double uncertainty = 0.0;   ///< plus or minus, mm
};

/// A rib that stands into the room from the skin, following the wall between two heights.
struct Rib {
  std::string name;
  VanSide side = VanSide::left;
  double x = 0.0;             ///< its middle
  double width = 0.0;         ///< along x
  double depth = 0.0;         ///< into the room
  double from = 0.0;          ///< heights
  double to = 0.0;
};

/// A wheel arch: a block with rounded upper edges against the wall.
struct WheelArch {
  std::string name;
  VanSide side = VanSide::left;
  double from = 0.0;          ///< x
  double to = 0.0;
  double height = 0.0;
  double half_width = 0.0;    ///< distance of its inboard face from the centre line
  double radius = 0.0;        ///< of the rounded ends of its top, seen from the side
};

enum class OpeningKind { sliding, hinged, rear };

/// A door opening. Side openings lie in a wall, the rear one in the plane x = 0.
struct Opening {
  std::string name;
  OpeningKind kind = OpeningKind::rear;
  VanSide side = VanSide::right;   ///< of a side opening
  double from = 0.0;               ///< x of a side opening; y of the rear one
  double to = 0.0;
  double bottom = 0.0;
  double top = 0.0;
};

/// A beam under the floor that can take a bolt.
struct Joist {
  std::string name;
  bool across = true;         ///< runs along y; else along x
  double at = 0.0;            ///< its middle: x when across, else y
  double width = 0.0;
  double from = 0.0;          ///< its ends, along its length
  double to = 0.0;
};

struct Axle {
  double x = 0.0;
  double track = 0.0;
  double limit_kg = 0.0;
  double empty_kg = 0.0;      ///< load of the empty van on this axle
};

/// Part of the van's body as the clearance engine and pictures see it, in van axes.
struct VehicleBody {
  std::string id;             ///< "vehicle/wall.left", "vehicle/rib.left_2"
  Pieces pieces;
};

/// Free width between the walls over a box of space.
struct ClearWidth {
  double left = 0.0;          ///< y of the left limit, positive to the left
  double right = 0.0;         ///< y of the right limit
  double width() const { return left - right; }
};

/// A van measured from the inside.
struct Vehicle {
  std::string key;
  std::string title;
  std::vector<Station> stations;     ///< rising x, at least two
  std::vector<Rib> ribs;
  std::vector<WheelArch> arches;
  std::vector<Opening> openings;
  std::vector<Joist> joists;
  std::optional<Axle> front_axle;
  std::optional<Axle> rear_axle;
  double floor_thickness = 0.0;      ///< of the deck above the joists
  double rear_sill = 0.0;            ///< x of the rear sill's inner edge
  double gross_limit_kg = 0.0;

  double x_min() const { return stations.front().x; }
  double x_max() const { return stations.back().x; }
};

/// y of the bare wall (no ribs, no arches) on one side at x and z, on the surface that the stations
/// triangulate; nullopt outside the surveyed room.
std::optional<double> wall_y(const Vehicle& vehicle, VanSide side, double x, double z);

/// The widest straight band between the walls over x0..x1 and z0..z1 that ribs, arches and walls leave
/// free; nullopt when the box leaves the surveyed room.
std::optional<ClearWidth> clear_width(const Vehicle& vehicle, double x0, double x1, double z0, double z1);

/// Lowest roof height above the floor over x0..x1 and y0..y1 (arches below are not counted).
std::optional<double> clear_height(const Vehicle& vehicle, double x0, double x1, double y0, double y1);

/// The joist whose middle is nearest to x (across) or y (along), or nullptr.
const Joist* nearest_joist(const Vehicle& vehicle, Vec2 at);
/// True when a bolt of `radius` at (x, y) stays inside a joist, by at least `edge` from its sides.
bool over_joist(const Vehicle& vehicle, Vec2 at, double edge);

/// Walls (triangulated once by a fixed diagonal, each triangle extruded outward into a wedge at least 60 mm
/// thick), roof, floor, ribs, arches and bulkhead, as convex pieces in van axes.
std::vector<VehicleBody> vehicle_bodies(const Vehicle& vehicle);

/// True when `point` lies inside the surveyed room.
bool inside_room(const Vehicle& vehicle, Vec3 point);

/// The single top-level tables of a vehicle file ("vehicle", "axles"...) and its named ones, with schemas.
const std::vector<std::pair<std::string, SchemaPtr>>& vehicle_schemas();

/// Reads a vehicle document.
Result<Vehicle> read_vehicle(const Document& document);

}  // namespace ribbay

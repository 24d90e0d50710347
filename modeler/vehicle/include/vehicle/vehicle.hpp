#pragma once

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/pieces.hpp"
#include "spec/dimension.hpp"
#include "spec/document.hpp"
#include "spec/schema.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ribbay {

enum class VanSide { left, right };

/// What a station's half widths were measured to. Ribs stand into the room only where it is the
/// skin: the other two already lie at or in front of the ribs. All stations of a vehicle measure
/// the same.
enum class Surveyed { skin, rib_face, lining };

/// Half width of the room at a height, on one side, mm.
struct WallPoint {
  double z = 0.0;
  double half_width = 0.0;
};

/// A cross-section of the room at one x. Points rise from the floor to the roof; the last points of
/// both sides meet the roof line, which joins them.
struct Station {
  std::string name;
  double x = 0.0;
  std::vector<WallPoint> left;
  std::vector<WallPoint> right;
  Surveyed surveyed = Surveyed::skin;
  double uncertainty = 0.0;  ///< plus or minus, mm
};

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
};

/// A wheel arch: a block with rounded upper edges against the wall.
struct WheelArch {
  std::string name;
  VanSide side = VanSide::left;
  double from = 0.0;  ///< x
  double to = 0.0;
  double height = 0.0;
  double half_width = 0.0;  ///< distance of its inboard face from the centre line
  double radius = 0.0;      ///< of the rounded ends of its top, seen from the side
};

enum class OpeningKind { sliding, hinged, rear };

/// A door opening. Side openings lie in a wall, the rear one in the plane x = 0.
struct Opening {
  std::string name;
  OpeningKind kind = OpeningKind::rear;
  VanSide side = VanSide::right;  ///< of a side opening
  double from = 0.0;              ///< x of a side opening; y of the rear one
  double to = 0.0;
  double bottom = 0.0;
  double top = 0.0;
};

/// A beam under the floor that can take a bolt.
struct Joist {
  std::string name;
  bool across = true;  ///< runs along y; else along x
  double at = 0.0;     ///< its middle: x when across, else y
  double width = 0.0;
  double from = 0.0;  ///< its ends, along its length
  double to = 0.0;
};

struct Axle {
  double x = 0.0;
  double track = 0.0;
  double limit_kg = 0.0;
  double empty_kg = 0.0;  ///< load of the empty van on this axle
};

/// Part of the van's body as the clearance engine and pictures see it, in van axes.
struct VehicleBody {
  std::string id;  ///< "vehicle/wall.left", "vehicle/rib.left_2"
  Pieces pieces;
};

/// Free width between the walls over a box of space.
struct ClearWidth {
  double left = 0.0;   ///< y of the left limit, positive to the left
  double right = 0.0;  ///< y of the right limit
  double width() const { return left - right; }
};

/// A van measured from the inside.
struct Vehicle {
  std::string key;
  std::string title;
  std::vector<Station> stations;  ///< rising x, at least two
  std::vector<Rib> ribs;
  std::vector<WheelArch> arches;
  std::vector<Opening> openings;
  std::vector<Joist> joists;
  std::optional<Axle> front_axle;
  std::optional<Axle> rear_axle;
  double floor_thickness = 0.0;  ///< of the deck above the joists
  double rear_sill = 0.0;        ///< x of the rear sill's inner edge
  double gross_limit_kg = 0.0;
  bool rear_closed = false;   ///< something solid closes the room behind the first station
  bool front_closed = false;  ///< a bulkhead closes the room in front of the last station

  double x_min() const { return stations.front().x; }
  double x_max() const { return stations.back().x; }
};

/// y of the bare wall (no ribs, no arches) on one side at x and z, on the surface that the stations
/// triangulate; nullopt outside the surveyed room.
///
/// Between two neighbouring stations the points of both are joined from the floor up: the next
/// lower one of the two next points goes first, at equal heights that of the rear station. Left and
/// right follow the same rule, so a mirrored vehicle has mirrored walls. The roof between the top
/// points is two triangles that share the lower one of the two diagonals.
std::optional<double> wall_y(const Vehicle& vehicle, VanSide side, double x, double z);

/// The widest straight band between the walls over x0..x1 and z0..z1 that ribs, arches and walls
/// leave free, exact; nullopt when the box leaves the surveyed room. Ribs and arches that only
/// touch the box do not count.
std::optional<ClearWidth> clear_width(const Vehicle& vehicle, double x0, double x1, double z0,
                                      double z1);

/// Lowest height above the floor of whatever closes the room from above over x0..x1 and y0..y1,
/// exact (ribs, and arches below, are not counted); nullopt when the rectangle leaves the room in
/// plan.
std::optional<double> clear_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                   double y1);

/// Largest survey uncertainty of the stations that shape the walls over x0..x1, mm.
double survey_uncertainty(const Vehicle& vehicle, double x0, double x1);

/// The rib on `side` whose middle comes next in front of x, or nullptr.
const Rib* next_rib(const Vehicle& vehicle, VanSide side, double x);

/// The joist whose middle line is nearest to the point, or nullptr when there is none.
const Joist* nearest_joist(const Vehicle& vehicle, Vec2 at);
/// True when (x, y) lies inside a joist seen from above, at least `edge` from all its sides.
bool over_joist(const Vehicle& vehicle, Vec2 at, double edge);

/// Facts of the vehicle that expressions may name behind "vehicle.": "floor_width", "rear_sill",
/// "arch.left.height", ... with their values, sorted by name. "floor_width" is the least distance
/// of the walls at floor height, "roof_height" the least height of the roof on the centre line.
std::vector<std::pair<std::string, Quantity>> vehicle_facts(const Vehicle& vehicle);

/// Walls, roof, floor, ribs and arches, as convex pieces in van axes, at least 60 mm thick. Each
/// triangle of the surface is swept straight outward: walls along y, whatever is flatter than 45
/// degrees at the top along z, and a block fills the corner between the two. A wall is a function
/// of x and z, and the roof never widens upward, so no piece reaches into the room and none is
/// missing behind its surface. "vehicle/rear" and "vehicle/bulkhead" are there only when the
/// vehicle is closed at that end.
std::vector<VehicleBody> vehicle_bodies(const Vehicle& vehicle);

/// True when `point` lies inside the surveyed room or on its surface. Ribs and arches are not
/// subtracted.
bool inside_room(const Vehicle& vehicle, Vec3 point);

/// The top-level tables of a vehicle file with their schemas: "vehicle" and "axle" stand once, the
/// others hold named tables: "station", "rib", "arch", "opening", "joist".
const std::vector<std::pair<std::string, SchemaPtr>>& vehicle_schemas();

/// Reads a vehicle document. Every fault of the file is reported.
Result<Vehicle> read_vehicle(const Document& document);

}  // namespace ribbay

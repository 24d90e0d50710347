#pragma once

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/pieces.hpp"
#include "spec/dimension.hpp"
#include "spec/document.hpp"
#include "spec/schema.hpp"
#include "vehicle/room.hpp"
#include "vehicle/underside.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ribbay {

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

struct VehicleScan;

/// A van measured from the inside.
struct Vehicle {
  std::string key;
  std::string title;
  std::vector<Station> stations;  ///< rising x, at least two
  std::vector<Diagonal> diagonals;
  std::vector<Rib> ribs;
  std::vector<RibRow> rib_rows{};
  std::vector<Bow> bows;
  std::vector<WheelArch> arches;
  std::vector<Opening> openings;
  std::vector<Channel> channels;
  std::vector<FloorLayer> floor_layers;  ///< from the surface down; may be empty
  std::vector<Joist> joists;
  std::vector<HardPoint> hard_points;
  std::vector<NoDrill> no_drill;
  std::optional<Axle> front_axle;
  std::optional<Axle> rear_axle;
  std::optional<double> wheelbase;  ///< from the axles when both are there, else as the papers say
  std::optional<Weighbridge> weighbridge;
  double floor_thickness = 0.0;  ///< of the deck above the joists, all its layers
  double floor_backing = 0.0;    ///< of the plates under it that bolts' nuts bear on; 0: none
  double rear_sill = 0.0;        ///< x of the rear sill's inner edge
  double gross_limit_kg = 0.0;
  bool rear_closed = false;   ///< something solid closes the room behind the first station
  bool front_closed = false;  ///< a bulkhead closes the room in front of the last station

  std::shared_ptr<const VehicleScan> scan;  ///< null for a taped van
  Findings remarks{};  ///< notes and warnings about the survey: what a scan shows and does not

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

/// The widest straight band between the walls over x0..x1 and z0..z1 that ribs, arches, closed
/// side doors and walls leave free, exact; nullopt when the box leaves the surveyed room. What only
/// touches the box does not count; bows are the business of clear_height().
std::optional<ClearWidth> clear_width(const Vehicle& vehicle, double x0, double x1, double z0,
                                      double z1);

/// Lowest height above the floor of whatever closes the room from above over x0..x1 and y0..y1,
/// exact: roof, walls that lean in, and bows (ribs, and arches below, are not counted); nullopt
/// when the rectangle leaves the room in plan.
std::optional<double> clear_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                   double y1);

/// Largest survey uncertainty of the stations that shape the walls over x0..x1, mm.
double survey_uncertainty(const Vehicle& vehicle, double x0, double x1);
/// The largest of the points whose triangles make the walls over x0..x1 and z0..z1, mm.
double survey_uncertainty(const Vehicle& vehicle, double x0, double x1, double z0, double z1);

/// The rib on `side` whose middle comes next in front of x, or nullptr.
const Rib* next_rib(const Vehicle& vehicle, VanSide side, double x);
/// The rib on `side` whose middle comes next behind x, or nullptr.
const Rib* previous_rib(const Vehicle& vehicle, VanSide side, double x);

/// The joist whose middle line is nearest to the point, or nullptr when there is none.
const Joist* nearest_joist(const Vehicle& vehicle, Vec2 at);
/// True when (x, y) lies inside a joist seen from above, at least `edge` from all its sides.
bool over_joist(const Vehicle& vehicle, Vec2 at, double edge);

/// The zone that a hole of `radius` about the point would enter, the nearest of several; nullptr
/// when the floor may be drilled there. A hole may touch the edge of a zone from outside.
const NoDrill* no_drill_at(const Vehicle& vehicle, Vec2 at, double radius);

/// The opening of that name, or nullptr.
const Opening* find_opening(const Vehicle& vehicle, std::string_view name);

/// Distance of a box from an opening, 0 when they overlap: of a side opening the straight distance
/// in the plane of x and z, of the rear one the distance along x from the rear end of the room.
double distance_to_opening(const Vehicle& vehicle, const Opening& opening, double x0, double x1,
                           double z0, double z1);

/// The room inside an opening that must stay free, over its width and height: from the rear end
/// forward, or from the widest place of the wall in to `clear_way` inboard of the wall at the sill.
/// Nullopt when nothing has to.
std::optional<Box> clear_way(const Vehicle& vehicle, const Opening& opening);

/// Facts of the vehicle that expressions may name behind "vehicle.": "floor_width", "rear_sill",
/// "arch.left.height", ... with their values, sorted by name. "floor_width" is the least distance
/// of the walls at floor height, "roof_height" the least height of the bare roof on the centre
/// line, "bow.NAME.bottom" the lowest height of its face. The only list of these names.
std::vector<std::pair<std::string, Quantity>> vehicle_facts(const Vehicle& vehicle);

/// Walls, roof, floor, ribs, bows, arches and the closed doors that stand into the room, as convex
/// pieces in van axes; what bounds the room is at least 60 mm thick. Each triangle of the surface
/// is swept straight outward: walls along y, whatever is flatter than 45 degrees at the top along
/// z, and a block fills the corner between the two. A wall is a function of x and z, and the roof
/// never widens upward, so no piece reaches into the room and none is missing behind its surface.
/// "vehicle/rear" and "vehicle/bulkhead" are there only when the vehicle is closed at that end;
/// "vehicle/bow.NAME" and "vehicle/leaf.NAME" where they stand in front of the surface.
std::vector<VehicleBody> vehicle_bodies(const Vehicle& vehicle);

/// True when `point` lies inside the surveyed room or on its surface. Ribs, bows, arches and doors
/// are not subtracted.
bool inside_room(const Vehicle& vehicle, Vec3 point);

/// The top-level tables of a vehicle file with their schemas: "vehicle", "floor", "axle" and
/// "weighbridge" stand once, the others hold named tables.
const std::vector<std::pair<std::string, SchemaPtr>>& vehicle_schemas();
/// True for those that stand once.
bool stands_once(std::string_view table);

/// Reads the scan that a vehicle document names, if any, and adds it to the document's inputs, so
/// that it is read once and counts as an input. Empty, or why it cannot be read.
Findings add_scan_file(Document& document, const ReadFile& read = read_file);

/// Reads a vehicle document. Every fault of the file is reported. A scan is taken from the
/// document's inputs, or else read by `read`.
Result<Vehicle> read_vehicle(const Document& document, const ReadFile& read = read_file);

}  // namespace ribbay

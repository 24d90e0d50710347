#pragma once

#include "base/box.hpp"
#include "layout/layout.hpp"
#include "spec/evaluator.hpp"
#include "spec/record.hpp"
#include "spec/schema.hpp"

#include <map>
#include <string>
#include <vector>

namespace ribbay::detail {

/// For reference_field(): entries of a catalogue table that serve one purpose (see Catalogue::keys).
inline constexpr const char* kWoodScrew = "bolt: wood screw";
inline constexpr const char* kMachineBolt = "bolt: machine bolt";
inline constexpr const char* kScrewOrBolt = "bolt: screw or bolt";
inline constexpr const char* kShelfPin = "bolt: shelf pin";
inline constexpr const char* kEdgeBand = "finish: edge band";
inline constexpr const char* kBoard = "sheet: load-bearing sheet";
inline constexpr const char* kInsulation = "sheet: insulation board";
/// Fittings by their use; " or " stands between two.
inline constexpr const char* kLatch = "fitting: latch or magnet";
inline constexpr const char* kMagnetOrClip = "fitting: magnet or clip";
inline constexpr const char* kStay = "fitting: stay";
inline constexpr const char* kLeg = "fitting: leg";
inline constexpr const char* kStrap = "fitting: strap";
inline constexpr const char* kPost = "fitting: post";
inline constexpr const char* kFoot = "fitting: foot";
inline constexpr const char* kClamp = "fitting: clamp";

/// All a generator may know: its own computed fields, its place, the bare van and the catalogue.
///
/// Generators work in the module's own axes: the origin is the lower left front corner of the
/// envelope as seen by somebody who stands before the module's front; x runs to the right, y to the
/// back, z up. The envelope is then 0..size.
///
/// In a mirrored module what they make at x stands at width - x, and what they call left is right:
/// they ask the functions below for the way to the van and back, and for the words.
struct ModuleRequest {
  std::string name;
  const Record& fields;
  Vec3 size;    ///< width, depth, height of the envelope
  Frame frame;  ///< module to van
  const Vehicle& vehicle;
  const Catalogue& catalogue;
  bool mirrored = false;

  Vec3 to_van(Vec3 p) const { return frame.point(image(p)); }
  Vec3 from_van(Vec3 p) const { return image(frame.local_point(p)); }
  /// A direction of travel.
  Vec3 direction_to_van(Vec3 d) const {
    return frame.direction(mirrored ? Vec3{-d.x, d.y, d.z} : d);
  }
  /// The axis of a turn by the right-hand rule: a mirror image turns the other way.
  Vec3 turning_axis_to_van(Vec3 a) const {
    return frame.direction(mirrored ? Vec3{a.x, -a.y, -a.z} : a);
  }
  /// What stands at the generator's left and right is called, for ids and titles.
  std::string left() const { return mirrored ? "right" : "left"; }
  std::string right() const { return mirrored ? "left" : "right"; }

 private:
  Vec3 image(Vec3 p) const { return mirrored ? Vec3{size.x - p.x, p.y, p.z} : p; }
};

/// A part that only magnets carry: whether they do is judged when its finishes weigh too.
struct Hung {
  std::string part;   ///< id
  double held = 0.0;  ///< N that they carry
  Finding finding;    ///< what to tell when that is too little; `measured` and `required` are added
};

/// What a generator makes; everything in van axes, ids complete.
struct ModuleParts {
  std::vector<Part> parts;
  std::vector<Joint> joints;
  std::vector<Motion> motions;
  std::vector<Zone> zones;
  std::vector<Bed> beds;
  std::vector<Support> supports;
  std::vector<FloorBolt> floor_bolts;
  std::vector<Removal> removals;
  std::map<std::string, Box>
      ports;  ///< boxes that relations may address as MODULE.PORT.SIDE, van axes
  std::vector<Hung> hung;
  Findings findings;  ///< with an error among them the project is not built
  Findings judged;    ///< wrong, but it can be laid out and checked all the same
};

/// Reads one field of the module before its record is complete, for default sizes.
struct EarlyFields {
  Evaluator& evaluator;
  std::string path;  ///< "module.rack"
  const Catalogue& catalogue;
};

/// A module kind: one row of the table in kinds.cpp.
struct Kind {
  std::string name;
  SchemaPtr schema;  ///< the fields that all kinds share, and its own
  ModuleParts (*generate)(const ModuleRequest&);
  /// Size along axis 0, 1 or 2 when its field is not given; nullopt: the field is needed.
  std::optional<double> (*default_size)(const EarlyFields&, int axis) = nullptr;
  /// Its envelope reaches to the widest place of the walls it stands at, not the narrowest; at one
  /// wall its default depth counts from the narrowest.
  bool follows_walls = false;
  /// The same for what lies flat: the widest place along the van counts, not up the walls.
  bool lies_flat = false;
  /// At a wall it stands over wheel arches, not clear of them.
  bool stands_over_arches = false;
  /// How far up from its underside a module at a wall must fit it, when not all the way.
  std::optional<double> (*wall_height)(const EarlyFields&) = nullptr;
};

/// The fields that every module kind has, followed by `own`.
SchemaPtr module_schema(std::string kind, std::string meaning, std::vector<Field> own);

/// All kinds, by name.
const std::vector<Kind>& kinds();

Kind bench_kind();
Kind locker_kind();
Kind rack_kind();
Kind table_kind();
Kind galley_kind();
Kind bunk_kind();
Kind custom_kind();
Kind floor_kind();
Kind hatch_kind();
Kind lining_kind();
Kind partition_kind();
Kind sled_kind();
Kind tray_kind();

}  // namespace ribbay::detail

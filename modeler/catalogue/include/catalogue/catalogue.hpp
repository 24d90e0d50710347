#pragma once

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/region.hpp"
#include "spec/document.hpp"
#include "spec/schema.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ribbay {

/// Where a catalogue fact comes from. Every entry has one; `assumption` says that nobody looked it
/// up.
struct Provenance {
  std::string source;
  std::string date;  ///< ISO 8601; when it was looked up
  bool assumption = false;
};

/// What stands in for something bought in a mirrored module.
struct MirrorFacts {
  bool symmetric = false;  ///< it is its own mirror image
  std::string pair;        ///< key of the item that is its mirror image, or empty
};

struct Material {
  std::string key;
  std::string title;
  double density = 0.0;            ///< kg/mm3
  double modulus_mpa = 0.0;        ///< 0: not given
  double shear_modulus_mpa = 0.0;  ///< 0: not given
  double expansion = 0.0;          ///< per kelvin; 0: not given
  std::string colour;              ///< "#rrggbb" for pictures and models
  Provenance provenance;
};

enum class ProfileFamily { slotted, i_beam, rectangular_tube, angle, flat };

/// The slots of a slotted profile, the same on all four sides; several side by side on wide
/// profiles.
struct Slot {
  double opening = 0.0;       ///< width at the surface
  double lip = 0.0;           ///< thickness of the lips
  double cavity_width = 0.0;  ///< width directly behind the lips
  double floor_width = 0.0;   ///< width at the cavity floor
  double depth = 0.0;         ///< from the surface to the cavity floor
  double pitch = 0.0;  ///< distance between slots on a wide profile: the size of its square cells
};

/// A length of stock with a constant section. The section is centred on its bounding box; x is the
/// width, y the height.
struct Profile {
  std::string key;
  std::string title;
  ProfileFamily family = ProfileFamily::flat;
  std::string material;
  double width = 0.0;
  double height = 0.0;
  Region section;
  std::optional<Region> coarse;  ///< sharp outline without slots, for small drawings
  std::optional<Slot> slot;
  double core_bore = 0.0;             ///< diameter of the hole(s) that take an end thread; 0: none
  std::vector<Vec2> core_bores;       ///< their centres
  std::vector<double> stock_lengths;  ///< mm
  Provenance provenance;
};

struct Sheet {
  std::string key;
  std::string title;
  std::string material;
  double nominal = 0.0;    ///< what the shop calls it, mm
  double thickness = 0.0;  ///< actual mean, mm: all geometry uses this
  double thinnest = 0.0;   ///< limits of the actual thickness
  double thickest = 0.0;
  double length = 0.0;  ///< of a full sheet; the grain runs along it when `grain`
  double width = 0.0;
  bool grain = false;
  Provenance provenance;
};

/// A pair of side-mounted drawer slides.
struct Slide {
  std::string key;
  std::string title;
  double length = 0.0;     ///< closed
  double travel = 0.0;     ///< how far the drawer comes out
  double thickness = 0.0;  ///< side space each slide takes
  double height = 0.0;
  double load_kg = 0.0;  ///< for the pair
  double mass_kg = 0.0;  ///< for the pair
  MirrorFacts mirror{};
  Provenance provenance;
};

struct Hinge {
  std::string key;
  std::string title;
  double opening = 0.0;  ///< largest angle, radians
  double cup_diameter = 0.0;
  double cup_depth = 0.0;
  double cup_edge = 0.0;    ///< cup centre from the door's edge
  double axis_inset = 0.0;  ///< turning axis from the door's hinge edge, towards the door's middle
  double axis_out = 0.0;  ///< turning axis in front of the door's outer face (negative: behind it)
  double mass_kg = 0.0;
  MirrorFacts mirror{};
  Provenance provenance;
};

/// An inside-corner bracket: two flat legs at a right angle.
struct Bracket {
  std::string key;
  std::string title;
  std::string material;
  double leg = 0.0;  ///< outside length of each leg
  double thickness = 0.0;
  double width = 0.0;
  double hole_from_corner = 0.0;  ///< bolt centre from the outside of the corner
  std::string bolt;               ///< key of the bolt it takes, one per leg
  std::string nut;                ///< key of the slot nut, or empty
  MirrorFacts mirror{};
  Provenance provenance;
};

enum class BoltKind { machine, wood };

/// A bolt or screw, and what goes with it.
struct Bolt {
  std::string key;
  std::string title;
  BoltKind kind = BoltKind::machine;
  double diameter = 0.0;  ///< thread
  double length = 0.0;    ///< under the head
  double head_diameter = 0.0;
  double head_height = 0.0;
  bool countersunk = false;  ///< the head goes into the material
  double clearance_hole = 0.0;
  double pilot_hole = 0.0;     ///< of a wood screw; 0: none
  double spanner = 0.0;        ///< across flats of the drive; 0: none
  std::string strength_class;  ///< ISO 898-1, "8.8"; empty: not given
  double mass_kg = 0.0;  ///< where the file gives none: shank and head as full steel cylinders
  Provenance provenance;
};

struct Nut {
  std::string key;
  std::string title;
  double diameter = 0.0;  ///< thread
  double width = 0.0;     ///< across the slot
  double length = 0.0;
  double height = 0.0;
  double pull_out_n = 0.0;  ///< permitted pull out of the slot; 0: not given
  double mass_kg = 0.0;
  Provenance provenance;
};

/// A bow handle with two screws.
struct Handle {
  std::string key;
  std::string title;
  double length = 0.0;  ///< overall
  double width = 0.0;
  double projection = 0.0;  ///< how far it stands out
  double hole_spacing = 0.0;
  double hole_diameter = 0.0;
  double mass_kg = 0.0;
  MirrorFacts mirror{};
  Provenance provenance;
};

/// One box of an equipment's body, in its own coordinates.
struct EquipmentBox {
  std::string name;
  Vec3 at;  ///< lowest corner
  Vec3 size;
};

enum class Face { front, back, left, right, top, bottom };

/// Where a hose, cable or duct leaves an equipment.
struct Port {
  std::string name;
  std::string kind;  ///< "water", "waste", "gas", "air", "exhaust", "cable"
  Vec3 at;           ///< centre, equipment coordinates
  Face out = Face::back;
  double diameter = 0.0;
};

/// Something bought that stands or hangs in a module. Its coordinates: x to the right as seen from
/// in front, y from the front towards the back, z up; the origin is the lower front left corner of
/// its first box.
struct Equipment {
  std::string key;
  std::string title;
  double mass_kg = 0.0;
  std::vector<EquipmentBox> boxes;
  std::vector<Vec3> feet;             ///< support points; empty: its underside
  std::map<Face, double> air;         ///< free air it needs beside each face, mm
  std::optional<double> front_swing;  ///< width of a door that opens at the front, mm
  std::vector<Port> ports;
  std::string colour;
  MirrorFacts mirror{};
  Provenance provenance;

  Box bounds() const;
};

/// Everything that can be bought, by key.
struct Catalogue {
  std::map<std::string, Material, std::less<>> materials;
  std::map<std::string, Profile, std::less<>> profiles;
  std::map<std::string, Sheet, std::less<>> sheets;
  std::map<std::string, Slide, std::less<>> slides;
  std::map<std::string, Hinge, std::less<>> hinges;
  std::map<std::string, Bracket, std::less<>> brackets;
  std::map<std::string, Bolt, std::less<>> bolts;
  std::map<std::string, Nut, std::less<>> nuts;
  std::map<std::string, Handle, std::less<>> handles;
  std::map<std::string, Equipment, std::less<>> equipment;

  /// Keys of one kind, named as in catalogue_schemas(), or nullopt when there is no such kind.
  std::optional<std::vector<std::string>> keys(std::string_view kind) const;
};

/// The top-level tables a catalogue file may have, with the schema of their entries:
/// "material", "profile", "sheet", "slide", "hinge", "bracket", "bolt", "nut", "handle",
/// "equipment".
const std::vector<std::pair<std::string, SchemaPtr>>& catalogue_schemas();

/// Reads those tables of `document`; each faulty entry is reported and left out, and so, without a
/// report of its own, is one that refers to it.
Built<Catalogue> read_catalogue(const Document& document);

}  // namespace ribbay

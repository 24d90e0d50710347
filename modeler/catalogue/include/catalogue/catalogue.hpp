#pragma once

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/shape.hpp"
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
  /// Contact potential of a metal, V: two metals that touch corrode the faster the further apart
  /// theirs are. Nullopt: no metal, or not given.
  std::optional<double> anodic_index{};
  /// Of solid wood: change of size per size and percent point of moisture, across the grain.
  double radial_movement = 0.0;      ///< of quarter-sawn boards; 0: no solid wood
  double tangential_movement = 0.0;  ///< of plain-sawn boards
  std::string colour;                ///< "#rrggbb" for pictures and models
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
  double bend_radius = 0.0;  ///< smallest inside radius it is folded to; 0: not for folding
  double k_factor = 0.5;     ///< place of the neutral fibre of a fold, in thicknesses from inside
  double flex_radius = 0.0;  ///< smallest radius it is sprung to; 0: it stays flat
  bool quarter_sawn = false;  ///< of solid wood: moves radially across the grain, else tangentially
  bool insulation = false;    ///< it carries nothing and holds no screws
  Provenance provenance;
};

/// Boards with tongue and groove. Its face is the better side; the tongue stands out at one edge.
struct Plank {
  std::string key;
  std::string title;
  std::string material;
  double cover = 0.0;      ///< width it covers when laid without a gap
  double width = 0.0;      ///< over all, tongue included
  double thickness = 0.0;  ///< actual
  double tongue = 0.0;     ///< thickness of the tongue, in the middle of the board
  double play = 0.0;       ///< by which the groove is wider and deeper than the tongue
  bool quarter_sawn = false;
  std::vector<double> stock_lengths;  ///< mm
  Provenance provenance;

  double tongue_length() const { return width - cover; }
};

enum class FinishKind {
  coat,      ///< painted, oiled: bought by the litre
  film,      ///< laid on or wrapped round: vinyl, felt, laminate; bought by the area
  edge_band  ///< on sawn edges, bought by the length
};

/// What covers a face.
struct Finish {
  std::string key;
  std::string title;
  FinishKind kind = FinishKind::coat;
  double thickness = 0.0;   ///< of all coats together, mm
  int coats = 1;            ///< of coat
  double coverage = 0.0;    ///< of coat: mm2 that a mm3 covers once
  double width = 0.0;       ///< of film and edge band as bought, mm; 0: any
  double turn_over = 0.0;   ///< of film: laid round each edge onto the back, mm
  double area_mass = 0.0;   ///< kg/mm2, dry
  std::string colour;
  Provenance provenance;
};

/// A flat plate over the faces of members that meet at a right angle, a bolt in each hole.
struct Plate {
  std::string key;
  std::string title;
  std::string material;
  double thickness = 0.0;
  Vec2 size;                ///< from its inner corner along both members, mm
  bool triangle = false;    ///< its outer corner is cut off
  std::vector<Vec2> holes;  ///< from the inner corner; those with the smaller y sit on member x
  std::string bolt;         ///< key
  std::string nut;          ///< key of the slot nut, or empty
  MirrorFacts mirror{true, {}};
  Provenance provenance;
};

/// A connector that hides in the end of a slotted member and pulls it to the slot of another.
struct Connector {
  std::string key;
  std::string title;
  double bore = 0.0;      ///< diameter of the cross hole in the member that ends, mm
  double from_end = 0.0;  ///< middle of the cross hole from the end
  double depth = 0.0;     ///< of the cross hole
  double foot_length = 0.0;  ///< of the foot in the other member's slot
  double foot_height = 0.0;
  double mass_kg = 0.0;
  Provenance provenance;
};

struct Dowel {
  std::string key;
  std::string title;
  std::string material;
  double diameter = 0.0;
  double length = 0.0;
  Provenance provenance;
};

/// A strip that a panel is pressed on.
struct Gasket {
  std::string key;
  std::string title;
  double width = 0.0;
  double thickness = 0.0;   ///< as bought
  double compressed = 0.0;  ///< when the panel is screwed down
  double metre_mass = 0.0;  ///< kg/mm
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
  bool locks_in = false;   ///< it stays closed until it is released by hand
  bool locks_out = false;  ///< the same when it is out
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

/// A hinge of two flat leaves on a pin; both lie on faces of what they join. A continuous one is
/// bought in lengths and sawn off.
struct ButtHinge {
  std::string key;
  std::string title;
  std::string material;
  double leaf = 0.0;       ///< width of one leaf, from the axis of the pin, mm
  double length = 0.0;     ///< along the pin; of a continuous one, as bought
  double thickness = 0.0;  ///< of a leaf
  double knuckle = 0.0;    ///< outside diameter of the rolled part round the pin
  double opening = 0.0;    ///< largest angle between the leaves, radians; 0: they lie on each other
  bool continuous = false;
  std::string screw;          ///< key of the bolt or screw in each hole
  double hole_row = 0.0;      ///< holes from the axis of the pin
  double first_hole = 0.0;    ///< outermost holes from each end
  double hole_spacing = 0.0;  ///< largest distance from hole to hole
  double mass_kg = 0.0;       ///< of one; of a continuous one, of the length as bought
  MirrorFacts mirror{};
  Provenance provenance;

  /// Where the holes of a leaf of length `of` lie along it, rising: at both ends, and evenly spaced
  /// between. Precondition: `of` is more than twice first_hole.
  std::vector<double> holes(double of) const;
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

enum class BoltKind {
  machine,
  wood,
  pin  ///< no thread: it stands in a hole and carries a shelf
};

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

/// A round of a bought thing's body: a cylinder, in its coordinates.
struct BodyRound {
  std::string name;
  Vec3 at;                 ///< middle of one end
  Vec3 axis{0, 0, 1};      ///< unit
  double diameter = 0.0;
  double length = 0.0;
};

/// A fixing hole of a bought thing.
struct FixingHole {
  std::string name;
  Vec3 at;         ///< middle of the hole where the head of its screw rests
  Vec3 direction;  ///< unit, the way its screw goes in
  double diameter = 0.0;
};

/// Bodies of a fitting that turn about its y axis, from +z towards +x: a leg that folds.
struct Folds {
  Vec3 at;                         ///< a point on the axis
  double angle = 0.0;              ///< radians
  std::vector<std::string> moves;  ///< names of boxes and rounds
};

/// A small bought part that is screwed on: magnet, latch, stay, table leg, drain. Its coordinates:
/// it is fixed with z = 0 on what carries it and stands out to +z.
struct Fitting {
  std::string key;
  std::string title;
  std::string use;  ///< "magnet", "latch", "stay", "leg", "post", "drain", "foot", "grip", "clamp",
                    ///< "hinge pin", "insert", "clip", "other"
  std::vector<EquipmentBox> boxes;
  std::vector<BodyRound> rounds;
  std::vector<FixingHole> holes;
  double cut_out = 0.0;  ///< diameter of the round opening it needs in what carries it; 0: none
  double hold_n = 0.0;   ///< permitted pull: of magnets and latches; 0: not given
  std::optional<Folds> folds{};
  double mass_kg = 0.0;
  std::string colour;
  MirrorFacts mirror{};
  Provenance provenance;
};

enum class Face { front, back, left, right, top, bottom };

/// As files write it: "front".
const std::string& name(Face face);
/// Unit vector out of the face, in the coordinates of what is bought.
Vec3 outward(Face face);

/// Where a hose, cable or duct leaves an equipment.
struct Port {
  std::string name;
  std::string kind;  ///< "water", "coolant", "waste", "drain", "gas", "air", "exhaust", "cable"
  Vec3 at;           ///< centre, equipment coordinates
  Face out = Face::back;
  double diameter = 0.0;
};

/// A face that gets hot.
struct HotFace {
  double kelvin = 0.0;  ///< how hot it gets, K
  double gap = 0.0;     ///< distance that what burns or softens must keep, mm
};

enum class OpensWay {
  swing,  ///< about an upright edge
  lift,   ///< about its upper edge; a lid about its rear one
  drop,   ///< about its lower edge
  pull    ///< straight out
};

/// A door, lid or drawer of the equipment itself.
struct OpensFront {
  std::string name;
  Face face = Face::front;
  OpensWay way = OpensWay::swing;
  Face hinge = Face::left;  ///< the side of `face` whose edge it turns about
  std::string leaf;         ///< the box of the body that moves; empty: the body has none
  double angle = 0.0;       ///< how far it turns, radians; 0 for pull
  double reach = 0.0;       ///< how far it comes out of its face when open, mm
};

/// How an equipment is taken out when it has failed.
struct ComesOut {
  Face towards = Face::front;
  int fasteners = 0;     ///< to undo at its fixings
  std::string tool{};    ///< for them: "screwdriver", "spanner 10 mm"; empty: not given
  bool on_sled = false;  ///< it stands on a sled that comes with it
};

/// Something bought that stands or hangs in a module. Its coordinates: x to the right as seen from
/// in front, y from the front towards the back, z up; the origin is the lower front left corner of
/// its main body.
struct Equipment {
  std::string key;
  std::string title;
  double mass_kg = 0.0;        ///< full, where it holds something
  double empty_mass_kg = 0.0;  ///< as bought
  std::vector<EquipmentBox> boxes;
  std::vector<BodyRound> rounds{};
  ShapePtr imported{};         ///< its real shape, from a file; null: boxes and rounds are it
  std::vector<Vec3> feet;      ///< support points; empty: its underside
  std::vector<FixingHole> fixings{};
  std::map<Face, double> air;  ///< free air it needs beside each face, mm
  std::map<Face, HotFace> hot{};
  std::vector<OpensFront> opens{};
  std::optional<ComesOut> comes_out{};
  double life_years = 0.0;  ///< expected; 0: not given
  std::vector<Port> ports;
  std::string colour;
  MirrorFacts mirror{};
  Provenance provenance;

  /// All of it, in its own coordinates.
  Box bounds() const;
  /// Its main body: the first box; without boxes all of it. Begins at 0, 0, 0.
  Box body() const;
};

/// The body of a bought thing: its boxes and rounds as one shape.
Shape body_shape(const std::vector<EquipmentBox>& boxes, const std::vector<BodyRound>& rounds);

/// Everything that can be bought, by key.
struct Catalogue {
  std::map<std::string, Material, std::less<>> materials;
  std::map<std::string, Profile, std::less<>> profiles;
  std::map<std::string, Sheet, std::less<>> sheets;
  std::map<std::string, Slide, std::less<>> slides;
  std::map<std::string, Hinge, std::less<>> hinges;
  std::map<std::string, ButtHinge, std::less<>> butt_hinges;
  std::map<std::string, Bracket, std::less<>> brackets;
  std::map<std::string, Bolt, std::less<>> bolts;
  std::map<std::string, Nut, std::less<>> nuts;
  std::map<std::string, Handle, std::less<>> handles;
  std::map<std::string, Plank, std::less<>> planks;
  std::map<std::string, Finish, std::less<>> finishes;
  std::map<std::string, Plate, std::less<>> plates;
  std::map<std::string, Connector, std::less<>> connectors;
  std::map<std::string, Dowel, std::less<>> dowels;
  std::map<std::string, Gasket, std::less<>> gaskets;
  std::map<std::string, Fitting, std::less<>> fittings;
  std::map<std::string, Equipment, std::less<>> equipment;

  /// Keys of one kind, named as in catalogue_schemas(), or of those that serve one purpose:
  /// "bolt: wood screw", "bolt: machine bolt", "bolt: shelf pin", "bolt: screw or bolt",
  /// "finish: edge band", "sheet: load-bearing sheet", "sheet: insulation board", and fittings by
  /// their uses, "fitting: magnet or clip". Nullopt when there is no such kind.
  std::optional<std::vector<std::string>> keys(std::string_view kind) const;
};

/// The top-level tables a catalogue file may have, with the schema of their entries:
/// "material", "profile", "sheet", "plank", "finish", "slide", "hinge", "butt_hinge", "bracket",
/// "plate", "connector", "bolt", "nut", "dowel", "gasket", "handle", "fitting", "equipment".
const std::vector<std::pair<std::string, SchemaPtr>>& catalogue_schemas();

/// Reads those tables of `document`; each faulty entry is reported and left out, and so, without a
/// report of its own, is one that refers to it.
Built<Catalogue> read_catalogue(const Document& document);

}  // namespace ribbay

#pragma once

#include "base/box.hpp"
#include "base/finding.hpp"
#include "base/frame.hpp"
#include "base/text.hpp"
#include "catalogue/catalogue.hpp"
#include "layout/prices.hpp"
#include "layout/sawing.hpp"
#include "layout/tolerances.hpp"
#include "shape/folded.hpp"
#include "vehicle/vehicle.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

enum class PartKind {
  member,    ///< a cut length of a profile
  panel,     ///< a cut piece of sheet, flat or sprung into a curve
  plank,     ///< a cut length of plank
  folded,    ///< sheet metal, cut and folded
  hardware,  ///< bought small parts: bracket, bolt, nut, slide, hinge, handle
  equipment  ///< bought things that a module holds
};

std::string_view name(PartKind kind);

/// What the shop must know to cut a part.
struct Stock {
  /// Catalogue key of the profile, sheet, hardware or equipment; empty for a body that comes with
  /// another one, such as the moving half of a slide.
  std::string key;
  double length = 0.0;     ///< finished size; along the grain for a panel that has one
  double width = 0.0;      ///< 0 for members
  double thickness = 0.0;  ///< 0 for members
  bool grain = false;      ///< the length must run along the grain
};

/// A finish on some faces of a panel or plank. It adds to the part's size in the van, not to the cut
/// one.
struct Covering {
  std::string finish;  ///< catalogue key
  bool face = false;
  bool back = false;
  std::vector<std::size_t> edges{};  ///< sides of the outline: the corner that each begins at
  double thickness = 0.0;            ///< that it adds to each of them, mm
  double turn_over = 0.0;            ///< of a film: laid round the edges onto the other side, mm
  friend bool operator==(const Covering&, const Covering&) = default;
};

/// One placed part.
struct Part {
  std::string id;      ///< "rack/post.front_left": stays the same when sizes change
  std::string module;  ///< "rack"
  std::string title;   ///< what a drawing calls it: "Post", "Drawer side left"
  PartKind kind = PartKind::panel;
  std::string material;  ///< catalogue key, may be empty for bought things
  std::string colour;    ///< "#rrggbb"
  Stock stock;
  ShapePtr shape;  ///< bare; for members: length along local z; for panels: face in local xy
  Frame frame;     ///< shape to van
  double mass_kg = 0.0;
  std::shared_ptr<const FlatPattern> flat{};  ///< of what is bent: the blank; else null
  std::vector<Covering> coverings{};
  ShapePtr finished{};  ///< with its coverings; null: as bare
  double spring_in = 0.0;  ///< of a panel: how far it may be bowed to follow what it lies at, mm
  int order = 0;        ///< of planks: their place in the row, from the datum edge; 0: none
  std::vector<std::string> hosts;  ///< of hardware: the parts it sits in, not checked against it

  /// What it takes up in the van.
  const Shape& body() const { return finished ? *finished : *shape; }
};

/// Parts that are fastened to each other: contact is meant, `hardware` holds them.
struct Joint {
  std::string id;    ///< "rack/joint.level_1.rail_front.left"
  std::string kind;  ///< "inside-corner bracket", "dado", "panel in slot", "screwed", ...
  std::vector<std::string> parts;     ///< ids
  std::vector<std::string> hardware;  ///< ids of hardware parts
  bool glued = false;
};

enum class MotionKind { translation, rotation };

/// A drawer, door or flap: its parts move together.
struct Motion {
  std::string id;  ///< "galley/drawer.first_1"
  std::string title;
  MotionKind kind = MotionKind::translation;
  std::vector<std::string> parts;  ///< what moves, equipment that rides along included
  Vec3 axis{1, 0, 0};     ///< unit direction of travel, or of the turning axis (right-hand rule)
  Vec3 origin;            ///< a point on the turning axis
  double travel = 0.0;    ///< full travel: mm, or radians
  double required = 0.0;  ///< how far it must open at least
  std::string gives_way;  ///< name of the parameter whose change could clear it:
                          ///< "galley.columns.first.spacer"
  /// Id of a motion that has gone all its way when this one begins: a leg folds, then its leaf
  /// drops. Axis and origin are as they are then; empty: everything is where it is laid out.
  std::string after{};
};

enum class ZoneKind { air, keep_clear, head_room, heat, service };

/// Space that parts must stay out of, except those in `allowed`.
struct Zone {
  std::string id;
  std::string title;
  ZoneKind kind = ZoneKind::keep_clear;
  Shape shape;
  Frame frame;                       ///< shape to van
  std::string owner;                 ///< part or module id that needs it
  std::vector<std::string> allowed;  ///< part ids or module names that may stand in it
};

/// Where somebody lies, as it is used.
struct Bed {
  std::string module;
  Box mattress;  ///< van axes; from the top of the deck to its own, which may be the same
};

/// Motions of which the builder opens one at a time.
struct OneAtATime {
  std::string name;
  std::vector<std::string> motions;  ///< ids
};

/// A required gap between two sets of parts: each name is a part id, a module name or "vehicle".
struct Gap {
  std::string id;
  std::string a;
  std::string b;
  double required = 0.0;  ///< mm
  Place place;            ///< where it was asked for
};

/// A foot of something heavy, and what it stands on.
struct Support {
  std::string id;
  std::string owner;  ///< part id
  Vec3 at;            ///< in the van
  double load_kg = 0.0;
};

/// How something that will fail one day is taken out again: first `undo` is undone, then it is
/// brought out by the motion `after`, then its own fixings are undone and it comes out.
struct Removal {
  std::string id;             ///< of the part
  Vec3 direction;             ///< unit, in the van: the way it comes out
  double travel = 0.0;        ///< until it is free of its module, mm
  int fasteners = 0;          ///< of its own fixings, which are no parts of the layout
  std::vector<std::string> along{};  ///< parts that come with it: its sled
  double life_years = 0.0;    ///< expected; 0: not given
  std::string tool{};         ///< for its own fixings; empty: not known
  std::vector<std::string> undo{};  ///< ids of hardware, in order
  std::string after{};        ///< id of a motion, or empty
};

/// A bolt or a pipe through the floor.
struct FloorBolt {
  std::string id;  ///< hardware part id
  Vec2 at;         ///< in the van
  double diameter = 0.0;
  bool over_joist = false;   ///< in a joist with enough edge
  std::string hard_point{};  ///< the vehicle's hard point that it goes into, or empty
  bool pipe = false;         ///< a drain: no joist may be in its way
};

/// A module's envelope: what relations address.
struct Module {
  std::string name;
  std::string kind;
  std::string title;
  Box envelope;       ///< van axes
  std::string front;  ///< the way its front looks: "rear", "front", "left", "right"
  Place place;
};

/// What the van goes through in a year: how far materials grow and shrink.
struct Climate {
  /// K. A winter's night outdoors, and closed panels in the sun: common practice, no source.
  double coldest = 253.15;
  double warmest = 333.15;
  /// Moisture of wood in percent of its dry mass. By default all of the range in which its movement
  /// is as good as linear: see wood.hpp.
  double driest = 6.0;
  double wettest = 14.0;
};

/// What one person lifts alone where a project says nothing, kg. Source: reference mass of ISO
/// 11228-1 for adult men, from memory; less for many people, and for bad grips.
inline constexpr double kReferenceMass = 25.0;

struct ProjectInfo {
  std::string name;
  std::string title;
  std::string date;  ///< ISO 8601, from the project file; may be empty
  std::string author;
  LengthStyle show = LengthStyle::millimetres;
  bool first_angle = true;
  std::string currency = "EUR";  ///< ISO 4217
  double one_person_lifts = kReferenceMass;  ///< kg; above it two people or a prop
};

/// Everything placed: pure data, made from the parameter files alone. All the rest is a function of
/// it.
struct Layout {
  ProjectInfo project;
  std::shared_ptr<const Vehicle> vehicle;
  std::shared_ptr<const Catalogue> catalogue;
  std::vector<Module> modules;         ///< file order
  std::vector<Part> parts;             ///< sorted by id
  std::vector<Joint> joints;           ///< sorted by id
  std::vector<Motion> motions;         ///< sorted by id
  std::vector<Zone> zones;             ///< sorted by id
  std::vector<Bed> beds;               ///< in the order of their modules
  std::vector<OneAtATime> one_at_a_time;  ///< file order
  std::vector<Gap> gaps;               ///< sorted by id
  std::vector<Support> supports;       ///< sorted by id
  std::vector<FloorBolt> floor_bolts;  ///< sorted by id
  std::vector<Removal> removals;       ///< sorted by id
  Sawing sawing;
  Tolerances tolerances;
  std::vector<Offcut> offcuts;         ///< file order
  std::vector<Price> prices;           ///< sorted by key
  std::optional<Rates> rates;          ///< nullopt: no quote is wanted
  Findings judged;                     ///< what is wrong with what could nevertheless be made
  Climate climate;
  double tight = 1.0;                  ///< gaps below this are reported as tight, mm

  const Part* find(std::string_view part_id) const;
  const Module* module(std::string_view module_name) const;
};

/// True for what the shop makes from stock: members, panels, planks, folded parts.
bool is_made(PartKind kind);

/// True for hardware and equipment that is bought by its own key.
bool is_bought(const Part& part);

/// Bounds of a placed part with its coverings, in van axes.
Box bounds(const Part& part);

/// Parts that are made alike: same stock and same shape.
struct PartType {
  std::string mark;  ///< what the shop writes on it: "M1", "P12", "B3" (planks), "F2" (folded)
  std::vector<std::size_t> parts;  ///< indices into Layout::parts, rising
};

/// All made parts by type: members, panels, planks, folded parts, each then by first part id; marks
/// count up.
std::vector<PartType> part_types(const Layout& layout);

/// Total mass in kg and centre of gravity in van axes.
struct MassSummary {
  double mass_kg = 0.0;
  Vec3 centre;
};
MassSummary mass_summary(const Layout& layout);

}  // namespace ribbay

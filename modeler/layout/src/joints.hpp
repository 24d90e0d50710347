#pragma once

#include "workpiece.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Joints between two parts on the bench: each bores and cuts both, adds its hardware and tells
/// what holds them. What does not fit is a finding at the joint's place.
namespace ribbay::detail {

/// Air between a panel's edge and the floor of the slot that it sits in (common practice, no
/// source).
inline constexpr double kSlotFloorAir = 2.0;

/// Two parts that are to be joined.
struct Pair {
  const ModuleRequest& request;
  Workshop& shop;
  std::string name;  ///< of the joint, without the module: hardware is called "bolt.NAME"
  Place place;
  Workpiece& a;
  Workpiece& b;
  bool glued = false;
};

/// A fault of a joint: an error at its place, its subjects the joint and its two parts.
Finding fault(const Pair& pair, std::string code);
/// "bolt.NAME", or "bolt.NAME_2" where there are several; `index` counts from 0.
std::string numbered(std::string_view noun, const Pair& pair, std::size_t index, std::size_t count);
/// Where the parts touch, or, at a distance of `gap`, face each other. Reports
/// "joint.apart", "joint.not_square", "joint.edge_only" or "joint.overlap".
std::optional<Patch> meeting(const Pair& pair, double gap = 0.0);
/// As above, where member `a` ends. Reports "joint.no_member" and "joint.not_at_end" too.
std::optional<Patch> end_meeting(const Pair& pair);
/// Places along the middle line of `patch` in the direction `along`, counted from its left, front
/// or lower end: as given, or from 40 mm inside both ends (common practice, no source) at most
/// `spacing` apart. Reports "joint.no_room" for those that leave less than `margin`.
struct Row {
  std::vector<double> at;  ///< empty: spread out
  double spacing = 300.0;
};
std::vector<Vec3> places(const Pair& pair, const Patch& patch, Vec3 along, const Row& row,
                         double margin);

/// Tells that the two are joined, and by what.
void join(const Pair& pair, const char* kind, std::vector<std::string> hardware = {});
/// Reports "joint.no_member" when `b` is none.
bool both_members(const Pair& pair);
/// Reports "joint.no_panel" when `piece` is none.
bool is_panel(const Pair& pair, const Workpiece& piece);
/// The way along member `b` that has more room beside `patch`.
Vec3 roomier_side(const Workpiece& b, const Patch& patch);

// Members ---------------------------------------------------------------------------------------

/// A bolt through `b` into the tapped core bores of member `a`, which ends there: one in each core
/// bore. Its head rests behind the lips of the slot of `b`, with a hole for the driver from the
/// far side, or on the far side, sunk there by `sunk`.
struct EndBolt {
  const Bolt* bolt = nullptr;
  bool in_slot = true;
  double sunk = 0.0;
};
void end_bolt(const Pair& pair, const EndBolt& how);

/// The middles of the core bores in the end of a member that looks to `out`.
std::vector<Vec3> core_bores(const Bar& bar, Vec3 out);
/// A thread cut into a core bore.
Hole end_tap(const Bar& bar, Vec3 at, Vec3 into, double depth);

/// A connector in a cross hole near the end of member `a`, its foot in the slot of member `b`. The
/// cross hole is drilled from `side`, a unit axis across `a`.
void hidden_connector(const Pair& pair, const Connector& connector, std::optional<Vec3> side = {});

/// A plate on the flush faces of two members at a right angle, `a` ending at `b`. `face` is the way
/// those faces look, `towards` the way along `b` that its other leg runs.
struct Gusset {
  const Plate* plate = nullptr;
  std::optional<Vec3> face{};
  std::optional<Vec3> towards{};
};
void gusset_plate(const Pair& pair, const Gusset& how);

/// An inside-corner bracket where `a` ends at `b`, on the side of `a` that looks to `towards`,
/// along `b`. Both parts must be made already.
void corner_bracket(const Pair& pair, const Bracket& bracket, std::optional<Vec3> towards = {});

// Panels ----------------------------------------------------------------------------------------

/// Panel `a` on a face of slotted member `b`: bolts through it into slot nuts, with `gasket`
/// between them where given.
struct OnFace {
  const Bolt* bolt = nullptr;
  const Nut* nut = nullptr;
  const Gasket* gasket = nullptr;
  Row row{};
};
void panel_on_face(const Pair& pair, const OnFace& how);

/// The edge of panel `a` in the slot of member `b`, loose.
void panel_in_slot(const Pair& pair);

/// Panel `a` stands in panel `b` by as much as it reaches into it: in a dado across its face, or in
/// a rebate along its edge.
void dado(const Pair& pair);
void rebate(const Pair& pair);

/// Dowels in blind holes of both; `depths` are those of the holes in `a` and `b`, by default as
/// much as half a dowel and 1 mm for glue.
void dowels(const Pair& pair, const Dowel& dowel, const Row& row,
            const std::vector<double>& depths = {});

/// Wood screws through `a` into `b`.
void screws(const Pair& pair, const Bolt& screw, const Row& row);

/// One screw from `at`, on the face of `a`, through it into `b`. Returns its id, or an empty text
/// where it misses one of them.
std::string screw_in(const Pair& pair, const std::string& name, const Bolt& screw, Vec3 at,
                     Vec3 direction);

}  // namespace ribbay::detail

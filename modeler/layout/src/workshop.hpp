#pragma once

#include "kind.hpp"
#include "shape/folded.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Making parts: generators say what they want in module axes; the workshop turns it into placed
/// parts.
namespace ribbay::detail {

/// Room that a rectangular cut takes away from a board, in module axes. It may reach past the
/// board.
struct BoxCut {
  Box box;
  CutRole role = CutRole::dado;
  double radius = 0.0;          ///< of its corners, seen along the board's normal
  std::vector<Vec3> corners{};  ///< its own outline in the board's plane; else that of `box`, which
                                ///< then only says how deep it goes
};

/// A hole in module axes.
struct Hole {
  Vec3 at;         ///< where the drill enters
  Vec3 direction;  ///< unit, into the material
  double diameter = 0.0;
  double depth = 0.0;
  bool through = false;
  BoreRole role = BoreRole::screw;
  std::string thread;
};

/// A rectangular piece of sheet, parallel to the module's axes.
struct Board {
  std::string name;   ///< id without the module: "side.left"
  std::string title;  ///< "Side left"
  const Sheet* sheet = nullptr;
  Box box;               ///< finished size; its extent along `normal` is the sheet's thickness
  Vec3 normal{0, 0, 1};  ///< unit axis: from the back of the sheet to its face
  Vec3 along{1, 0, 0};   ///< unit axis in the board's plane: the grain, and what "length" means
  std::vector<BoxCut> cuts;
  std::vector<Hole> holes;
  std::vector<Vec3> corners{};   ///< of a free outline that fills `box`; else all of it
  const Finish* band = nullptr;  ///< edge band; the finished size includes it
  std::vector<Vec3> banded{};    ///< the edges that have it: the way they look, unit axes
};

/// A piece of sheet with a free outline.
struct ShapedBoard {
  std::string name;
  std::string title;
  const Sheet* sheet = nullptr;
  Frame frame;  ///< outline's axes to module: outline in xy, face looks to +z, grain along x
  Region outline;  ///< finished size
  std::vector<Cut> cuts;
  std::vector<Hole> holes;           ///< in module axes
  const Finish* band = nullptr;      ///< edge band
  std::vector<std::size_t> banded{};  ///< sides of the outline that have it
};

/// Sheet that is bent: metal folded on a brake, or plywood sprung into a curve.
struct BentBoard {
  std::string name;
  std::string title;
  const Sheet* sheet = nullptr;
  Frame frame;  ///< axes of the first flat to module; its x is the grain
  FoldedSheet sheet_metal;
  PartKind kind = PartKind::folded;  ///< panel for what is sprung
  std::optional<FoldedSheet> blank{};  ///< as it is cut, when it is trimmed after bending
  double spring_in = 0.0;              ///< see Part::spring_in
};

/// A length of plank, cut from the front by `outline`; its tongue and groove stay where they are.
struct CutPlank {
  std::string name;
  std::string title;
  const Plank* plank = nullptr;
  Frame frame;      ///< to module: x along the board, y towards its tongue, z to its face; y = 0 at
                    ///< the edge with the groove
  Region outline;   ///< in xy; what of 0 <= y <= plank->width stays
  bool tongue = true;  ///< false: sawn off, as at the last board; the outline says how wide it is
  bool groove = true;  ///< false: sawn off
  int order = 0;       ///< from the datum edge
  std::vector<Cut> cuts{};
  std::vector<Hole> holes{};  ///< in module axes
};

/// A cut length of profile.
struct Bar {
  std::string name;
  std::string title;
  const Profile* profile = nullptr;
  Vec3 from;       ///< centre of the section at the start cut
  Vec3 direction;  ///< unit: along the length
  Vec3 across;     ///< unit: where the section's x (its width) points
  double length = 0.0;
  std::vector<Hole> holes;  ///< in module axes
};

/// A bolt or screw. `at` lies on the surface that its head rests on, or that a countersunk head is
/// flush with; `direction` points to its tip.
struct Fastener {
  std::string name;
  const Bolt* bolt = nullptr;
  Vec3 at;
  Vec3 direction;
  std::vector<std::string>
      hosts;  ///< names without the module, or whole ids of other modules' parts
};

/// An inside-corner bracket where two faces meet at a right angle. `corner` lies on both faces, in
/// the middle of the bracket's width; its legs run along `leg_a` and `leg_b` (unit axes, away from
/// the corner), leg a on `host_a`. Each leg gets its bolt and, in a slotted host, its slot nut.
struct CornerJoint {
  std::string name;
  const Bracket* bracket = nullptr;
  Vec3 corner;
  Vec3 leg_a;
  Vec3 leg_b;
  std::string host_a;  ///< whole ids
  std::string host_b;
  const Bolt* bolt_b = nullptr;  ///< in leg b; by default the bracket's own bolt
};

/// A bolt through what lies on a member into the nut in its slot; without a nut, into the member.
struct SlotBolt {
  std::string bolt_name;
  std::string nut_name;
  const Bolt* bolt = nullptr;
  const Nut* nut = nullptr;    ///< or null
  const Slot* slot = nullptr;  ///< of the member; needed with a nut
  Vec3 surface;                ///< on the member's face, in the middle of the slot
  Vec3 out;                    ///< unit: away from the member
  Vec3 along;                  ///< unit: the way the slot runs
  double clamped = 0.0;        ///< from the face to where the bolt's head rests, mm
  std::string member;          ///< whole id, or name without the module
  std::vector<std::string> through;  ///< what is clamped, as above
  std::optional<Place> place{};      ///< where the file asks for it; else that of the module
};

/// A pilot hole of seven tenths of the thread keeps plywood from splitting (common practice, no
/// source).
inline constexpr double kPilot = 0.7;

/// Diameter of the hole that a screw cuts its thread in: the catalogue's, or kPilot of the thread.
double pilot_diameter(const Bolt& screw);
/// The hole that lets a screw's shank pass through `thickness` of material, from where its head is.
Hole clearance_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness);
/// The hole that a screw with its head at `at` cuts its thread in, below `thickness` of what it
/// holds.
Hole pilot_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness);

/// Collects the parts of one module.
class Workshop {
 public:
  explicit Workshop(const ModuleRequest& request) : request_{request} {}

  /// Each adds a part and returns its id.
  std::string add(const Board& board);
  std::string add(const ShapedBoard& board);
  std::string add(const BentBoard& board);
  std::string add(const CutPlank& plank);
  std::string add(const Bar& piece);
  std::string add(const Fastener& fastener);
  /// A bought part of one or more prisms in module axes.
  std::string add_hardware(std::string name, std::string title, std::string stock,
                           std::string material, Shape shape, const Frame& frame, double mass_kg,
                           std::vector<std::string> hosts);
  /// A bought fitting; `frame` maps its coordinates to the module's axes. What of it folds is a part
  /// of its own, NAME.folding, and stands out or is `folded`.
  std::string add_fitting(std::string name, const Fitting& fitting, const Frame& frame,
                          std::vector<std::string> hosts, bool folded = false);
  /// Equipment standing with its lower left front corner at `at` (module axes), turned by quarter
  /// turns counter-clockwise seen from above about that box; registers ports NAME and NAME_BOX.
  std::string add_equipment(const std::string& name, const Equipment& item, Vec3 at,
                            int quarter_turns);

  /// A bracket with its bolts and nuts, and the joint they make.
  void add(const CornerJoint& joint);
  /// Adds the nut and the bolt, and their ids to `hardware`. Warns "layout.bolt_too_short" and
  /// "layout.bolt_too_long".
  void add(const SlotBolt& joint, std::vector<std::string>& hardware);

  void join(std::string name, std::string kind, std::vector<std::string> parts,
            std::vector<std::string> hardware = {});
  /// Two legs that lack the same screw are one fault of the file.
  void find(Finding finding) {
    if (std::ranges::find(made_.findings, finding) == made_.findings.end())
      made_.findings.push_back(std::move(finding));
  }

  /// "rack/post.front_left" from "post.front_left".
  std::string id(std::string_view name) const { return request_.name + "/" + std::string(name); }
  /// Module axes to van axes.
  Vec3 to_van(Vec3 p) const { return request_.to_van(p); }
  Box to_van(const Box& box) const;

  ModuleParts& made() { return made_; }
  ModuleParts finish() { return std::move(made_); }

 private:
  Part& start(std::string name, std::string title, PartKind kind);
  /// Gives a part its shape and its place; `frame` is that of the shape in the module's axes.
  void stand(Part& part, Shape shape, const Frame& frame);
  void stock_limits(const Part& part);
  void bolt_leg(const CornerJoint& joint, const char* leg, Vec3 on, Vec3 out,
                const std::string& host, const Bolt& bolt, std::vector<std::string>& hardware);
  /// The slot of a part made from slotted profile, or nullptr.
  const Slot* slot_of(const std::string& part_id) const;
  void check_reach(const SlotBolt& joint);
  const ModuleRequest& request_;
  ModuleParts made_;
};

/// Catalogue entry by key; the schema has checked that it is there.
template <class T>
const T& entry(const std::map<std::string, T, std::less<>>& entries, std::string_view key) {
  return entries.find(key)->second;
}

/// The entry that a module buys: in a mirrored module the one that is the pair of `key`.
template <class T>
const T& bought(const ModuleRequest& request, const std::map<std::string, T, std::less<>>& entries,
                std::string_view key) {
  const T& named = entry(entries, key);
  if (!request.mirrored || named.mirror.pair.empty()) return named;
  return entry(entries, named.mirror.pair);
}

}  // namespace ribbay::detail

#pragma once

#include "base/finding.hpp"
#include "base/tolerance.hpp"
#include "judgement/stack.hpp"
#include "layout/layout.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ribbay {
class Memo;
}

/// What is judged of a layout before anything is cut: how far gaps may be off, how modules will fit
/// a van that is known no better than its survey, and what will rattle. Millimetres, van axes.
namespace ribbay {

/// Why a gap is looked at.
enum class GapKind {
  asked,      ///< the file asks for it
  air,        ///< the catalogue asks for it around equipment
  modules,    ///< two modules near each other
  equipment,  ///< equipment near the module that holds it
  van,        ///< a module near the van
  motion      ///< a drawer or door, and what it passes
};
std::string_view name(GapKind kind);

/// A gap with how far it may be off.
struct JudgedGap {
  GapKind kind = GapKind::modules;
  std::string named;      ///< of the gap asked for, or the motion; else empty
  std::string a;          ///< part id
  std::string b;          ///< part id, or body of the van
  int axis = 0;           ///< of the van, along which it is measured: 0 x, 1 y, 2 z
  double nominal = 0.0;   ///< as drawn
  double required = 0.0;  ///< 0: they must not meet
  Stack stack;
  Vec3 at;
  bool left_to_van = false;  ///< what is packed, planed or measured there is told as a VanFit

  double least() const { return nominal - stack.worst; }
  bool fits() const { return least() >= required - kSame; }
  bool likely_fits() const { return nominal - stack.rss >= required - kSame; }
};

/// What a builder does where a module meets the van.
enum class FitVerdict {
  fits,    ///< it goes in whatever the survey may be wrong by
  shim,    ///< it is fastened there: pack what is left
  scribe,  ///< it may be too long or too short: leave on and plane it to the wall
  measure  ///< it may not go in, and cannot be planed: measure first
};
std::string_view name(FitVerdict verdict);

/// Where a module meets one side, row of ribs, arch or the roof of the van: the worst place of it.
struct VanFit {
  std::string module;
  std::string part;
  std::string place;  ///< "vehicle/wall.left", "vehicle/ribs.left", "vehicle/bows", ...
  std::string body;   ///< of the van, where it is worst: "vehicle/rib.left_2"
  FitVerdict verdict = FitVerdict::fits;
  double gap = 0.0;          ///< as drawn; negative: too deep
  double uncertainty = 0.0;  ///< of the survey there, plus or minus
  double bow = 0.0;          ///< by which the part may be sprung in
  double allowance = 0.0;    ///< shim: at most to pack; scribe: to leave on
  std::string measure;       ///< what to measure again; else empty
  Vec3 at;
};

/// Hard parts that are near each other and not held together: felt goes between them.
struct Rattle {
  std::string a;          ///< what they are, "galley: Drawer front"
  std::string b;
  double gap = 0.0;       ///< the least of them
  std::size_t places = 0;
  double length = 0.0;    ///< of the longest strip, about
  double width = 0.0;     ///< of the widest, about
  double area = 0.0;      ///< of all, mm2, about
  std::vector<std::string> ids;  ///< "a + b" for each place
};

struct Judgement {
  std::vector<JudgedGap> gaps;     ///< by kind, then ids
  std::vector<VanFit> van;         ///< by module, then body
  std::vector<Rattle> rattles;     ///< by what they are
  Findings findings;
};

/// Judges a layout. It asks for no more than the layout: how far the parts' sizes may be off stands
/// in Layout::tolerances and in the catalogue, the survey's uncertainty in the vehicle.
///
/// Gaps: those that the file or the catalogue asks for, and the narrowest of those below 10 mm
/// between two modules, a module and one body of the van, equipment and its module, and on the way
/// of each motion, along each axis. A gap hangs on what stands between its two faces: from part to part through
/// joints and contacts, by the way that adds least. Each size passed through counts once; a part set
/// by hand along another one counts as one measurement (`assembly`) from the face that matters.
/// Pieces of one sheet are off together. A module is set in place by the side that looks at the gap
/// (`fitting`); one that is near both walls shares what is left between them, so that its width and
/// the survey of either side count half.
///
/// Van: parts within 10 mm of the van's walls, ribs, roof, arches and bows; the floor is what
/// modules stand on. Panels and planks can be planed, unless they are sprung in: these take up
/// what their bow allows.
///
/// Rattles: hard parts no further apart than 2 mm. Not: what a joint or hardware holds together, what
/// rests by its weight, parts fixed in one module that touch, and films wrapped round. What touches
/// and can move by itself rattles too: drawers and doors, equipment, modules beside each other.
///
/// Findings: "judgement.stack" (a warning: a gap that is wide enough as drawn and not in the worst
/// case), "judgement.measure" (a warning) and "judgement.rattle" (one note for all).
/// The result is the same for any number of `jobs`, and with a `memo` of clearance or none.
Judgement judge(const Layout& layout, int jobs = 1, Memo* memo = nullptr);

}  // namespace ribbay

#pragma once

#include "base/finding.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

/// In which order a module is put together, found by taking it apart.
namespace ribbay {

/// How a tool gets to a bolt or screw, the better ways first.
enum class Reach {
  straight,  ///< a straight driver
  arm,       ///< short arm of a key, spanner or angle driver, a sixth of a turn at a time
  leaning,   ///< ball end of a key, leaning by 25 degrees: it tightens less
  none       ///< none of these
};

/// A bolt or screw, and how it is driven when everything before it stands.
struct Driven {
  std::string id;
  std::string tool;  ///< "hexagon key 5 mm", "screwdriver"; empty: not known
  Reach reach = Reach::straight;
};

/// Nuts that are slid into one slot of a member while it lies loose, in the order in which they go
/// in at one of its ends: the one that goes furthest first.
struct NutRun {
  std::string member;  ///< part id
  Vec3 slot;           ///< unit, in the van: the way the slot looks
  Vec3 from;           ///< unit, in the van: towards the end that they go in at
  std::vector<std::string> nuts;
  std::vector<double> places;  ///< of their middles from that end, mm
};

/// One thing is brought to its place and fixed to what stands there.
struct AssemblyStep {
  std::vector<std::string> parts;   ///< ids: one part, or those of a subassembly
  std::string title;                ///< "Rail", or of the drawer or door that it is
  std::string unit;                 ///< name of the unit that put them together before; or empty
  std::vector<std::string> with;    ///< hardware that sits on it already, slot nuts left out
  std::vector<std::string> halves;  ///< of hinges and slides: screwed to its parts before
  Vec3 direction;                   ///< unit, in the van: the way it moves into its place
  /// The last stretch of that, mm: beside what it touches there, or while a tongue or groove holds
  /// it on its other ways; nothing where it is only set against what stands.
  double travel = 0.0;
  double clear = 0.0;  ///< from where it is clear of all the rest, mm
  Vec3 first{};  ///< unit, in the van: the way it comes before `travel` begins; zero: the same
  std::vector<NutRun> nuts;           ///< put into its slots first
  std::vector<std::string> hardware;  ///< laid in now: brackets, plates, dowels
  std::vector<std::string> meeting;   ///< halves of hinges and slides that meet their others now
  std::vector<Driven> fasteners;      ///< driven now
  std::vector<std::string> joined;    ///< parts before it that it is joined to
  std::vector<std::string> glued;     ///< those of them that it is glued to
  bool straight = true;  ///< false: no straight move brings it in, it must be tilted or sprung
  /// False: nothing driven, laid in or slid into holds it, and it would fall or topple. Of
  /// equipment: no hardware of the layout holds it.
  bool held = true;
  bool held_later = false;  ///< a later step joins something to it
  double mass_kg = 0.0;
};

/// Why a module goes in after another one.
enum class AfterWhy {
  fixed,          ///< it is fixed to it
  stands,         ///< it stands on it
  covers_fixing,  ///< it would stand where a tool drives the other's fixings
  closes_way      ///< it would stand where the other's parts are brought to what holds them
};

struct AfterModule {
  std::string module;
  AfterWhy why = AfterWhy::fixed;
};

/// What is put together for itself: a drawer, or a module.
struct AssemblyUnit {
  std::string name;  ///< of the module, or id of the motion, or "MODULE/frame"
  std::string title;
  std::string module;
  bool bench =
      true;  ///< on the bench, then brought in as one piece; false: in its place in the van
  std::vector<AssemblyStep> steps;
  /// Of what comes from the bench: what holds it to the van and to other modules, driven in place.
  std::vector<Driven> fixings;
  /// Of a module: hardware that hangs on nothing made, as straps on ribs and the post of a table.
  /// It is put up when the rest is in its place; the room for its tools is not looked for.
  std::vector<std::string> put_up{};
  std::vector<AfterModule> after{};  ///< of a module: those that go in before it, file order
  double carried_kg = 0.0;           ///< of what is carried in: all but equipment
};

/// A rectangle of a frame: equal diagonals say that it is square.
struct SquareCheck {
  std::string module;
  std::string view;    ///< "plan", "front", "side"
  double width = 0.0;  ///< over the outer corners, mm
  double height = 0.0;
  double diagonal = 0.0;
  Vec3 from;  ///< a corner, in the van
  Vec3 to;    ///< the one across from it
};

struct AssemblyPlan {
  /// Subassemblies before their module; modules after those that they stand on or are fixed to, and
  /// after those that they would be in the way of; else in file order.
  std::vector<AssemblyUnit> units;
  std::vector<SquareCheck> squares;
  Findings findings;
};

/// The order of assembly of every module, planned backwards: from all that stands, one thing after
/// another comes off by a straight move along an axis of the van or its own, its fasteners reached
/// by their tools. Fewer parts block less and hide less, so taking what comes off first never leads
/// into a dead end: where it stops, no order of single straight moves exists, and the finding names
/// what holds what. What keeps the rest in one piece, and stands higher, comes off first. Of the
/// ways on which a thing comes off, that is told on which the least of it slides: a panel goes on
/// square to its face, a tongue into its groove from the side.
///
/// What runs on slides comes off along them; what a removal takes out, that way. A bolt or screw is
/// within reach when its tool finds room and a hand gets there from outside; drawers and doors are
/// opened for it.
///
/// A module is put together on the bench when it hangs together, passes a door of the van, and what
/// fixes it can be driven then; else in its place, where the walls and the modules that it is fixed
/// to stand in the way; of its ways, one past the modules that went in before. Slot nuts are slid
/// in from an end while their member is loose. The parts of a drawer or door are put together first
/// and brought in as one, equipment with the sled that it is taken out on; and so is the frame of
/// what is put together in its place where a tool would find no room otherwise: all of it, or all
/// but one part that would close its fixings in.
///
/// Findings, both notes and not proven: "assembly.interlock", "assembly.tool".
AssemblyPlan plan_assembly(const Layout& layout);

}  // namespace ribbay

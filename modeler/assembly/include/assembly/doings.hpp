#pragma once

#include "assembly/torque.hpp"
#include "assembly/words.hpp"

#include <string>
#include <vector>

/// What there is to do in the steps of a unit, in words that text, sheets and pages share.
namespace ribbay {

class Doings {
 public:
  /// Of the unit's layout; all three outlive it.
  Doings(const Layout& layout, const Names& names, const AssemblyUnit& unit);

  /// A direction by the unit's own sides when it is put together on the bench, else by the van's.
  std::string way(Vec3 direction) const;
  /// Which of both are meant.
  std::string ways_meant() const;
  /// How a thing comes: "to its back and slightly up", or that it is tilted in.
  std::string comes(const AssemblyStep& step) const;

  /// How what is heavy is carried, its ends named so.
  std::vector<std::string> carrying(const Lift& lift) const;

  /// What holds for all steps: the modules that it goes in after, holes to drill in the van and
  /// rivet nuts to set there before, glue that is needed, bolts that stay loose; may be empty.
  std::vector<std::string> of_all() const;
  /// Before it comes: slot nuts, halves of slides and hinges, what sits on it already, glue.
  std::vector<std::string> before(const AssemblyStep& step) const;
  /// When it is there: hold it, lay in, join, drive, with which tools; what its makers and codes
  /// say.
  std::vector<std::string> after(const AssemblyStep& step) const;
  /// After how many steps its frame is squared and fixed: before equipment after which only more of
  /// it comes, and what is laid in loose, as shelves. At least one.
  std::size_t squared_after() const;
  /// Then: sizes and diagonals of the frame, and how tight the bolts in slot nuts and in nuts are
  /// driven; may be empty.
  std::vector<std::string> squaring(const AssemblyPlan& plan) const;
  /// When a module is in its place: how heavy it is to bring in from the bench, what is put up and
  /// driven there; may be empty.
  std::vector<std::string> in_place() const;

 private:
  void add_holes(std::vector<std::string>& lines) const;
  void add_wall_holes(std::vector<std::string>& lines) const;
  std::vector<std::string> driven_through(const std::vector<std::string>& fasteners) const;
  void add_nuts(const AssemblyStep& step, std::vector<std::string>& lines) const;
  void add_halves(const AssemblyStep& step, bool hung, std::vector<std::string>& lines) const;
  std::vector<std::string> through_own_holes(const AssemblyStep& step) const;
  void add_laid_in(const AssemblyStep& step, std::vector<std::string>& lines) const;
  void add_meeting(const AssemblyStep& step, std::vector<std::string>& lines) const;
  void add_driven(const std::vector<Driven>& fasteners, const char* key,
                  std::vector<std::string>& lines) const;

  const Layout& layout_;
  const Names& names_;
  const AssemblyUnit& unit_;
  Vec3 front_;  ///< the way that the module's front looks
};

/// "25.3 N m", or that the maker of the nut says it.
std::string torque_text(const SlotBolts& bolts);

/// "28 kg: two people or a prop"; empty when one person lifts it.
std::string heavy_text(const Layout& layout, const AssemblyStep& step);

}  // namespace ribbay

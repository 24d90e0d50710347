#pragma once

#include "layout/layout.hpp"
#include "shape/pieces.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

/// What is to be put together: things that move as one, and the hardware between them.
namespace ribbay::detail {

/// A part's convex pieces in van axes.
struct Solid {
  Pieces pieces;
  Box box;
};

/// One thing that is brought in as one.
struct Group {
  std::vector<std::size_t> parts;   ///< indices into Layout::parts, hardware left out
  std::vector<std::size_t> riders;  ///< hardware on it alone: goes along
  std::string title;
  Vec3 removed;  ///< unit, in the van: the way that a removal takes it out; zero: none does
  Box box;
  double mass_kg = 0.0;
};

/// Hardware between units: there as long as all of them are.
struct Item {
  std::size_t part = 0;
  std::vector<std::size_t> units;  ///< rising
  bool outside = false;            ///< it holds to the van or to another module as well
  const Bolt* bolt = nullptr;      ///< what needs a tool; null: no bolt or screw
};

/// Two units that halves of a slide hold together: they part along the slide only.
struct Sliding {
  std::size_t item = 0;     ///< one of the halves
  std::size_t mover = 0;    ///< unit that comes out
  std::size_t carrier = 0;  ///< unit that it leaves behind
  Vec3 out;                 ///< unit, in the van: the way it comes out
  double overlap = 0.0;     ///< until its half has left the other one, mm
};

/// What the whole layout offers to every stage.
struct Workbench {
  explicit Workbench(const Layout& layout);

  const Layout& layout;
  std::vector<Solid> solids;                       ///< one for each part
  std::vector<std::vector<std::size_t>> carriers;  ///< of hardware: the parts it hangs on, rising
  std::vector<bool> to_van;                        ///< hardware that holds to the van
  /// Of each part: halves of hinges and slides that are screwed to it, rising.
  std::vector<std::vector<std::size_t>> halves_on;
  std::vector<bool> half;  ///< such a half
  /// Of each piece of bought hardware: the bolts and screws that hold it, rising.
  std::vector<std::vector<std::size_t>> held_by;
  std::vector<bool> opens;  ///< what a motion moves
  std::vector<Solid> van;

  const Bolt* bolt(std::size_t part) const;  ///< of a bolt or screw, else null
  bool is_nut(std::size_t part) const;
};

/// Groups of parts of one module, none empty. In its place it meets the van and the modules that it
/// is fixed to, equipment left out; else it lies on the bench, and what fixes it is not there.
struct Stage {
  using Groups = std::vector<std::vector<std::size_t>>;
  /// On the bench.
  Stage(const Workbench& bench, const Groups& groups);
  /// In its place. `standing` are parts of the modules that went in before: of several ways one
  /// past them is taken where there is one.
  Stage(const Workbench& bench, const Groups& groups, std::vector<std::size_t> standing);

  const Workbench& bench;
  std::vector<Group> units;
  std::vector<Item> items;
  std::vector<Sliding> slidings;
  bool in_place = false;
  std::vector<std::size_t> others;  ///< parts of the modules that it is fixed to, rising
  std::vector<std::size_t> standing;
  Box box;
  Box hosts;  ///< around the modules that it is fixed to; empty on the bench

  std::vector<std::vector<std::size_t>> joined;    ///< for each unit: units, rising
  std::vector<std::vector<std::size_t>> items_of;  ///< for each unit: items, rising

 private:
  Stage(const Workbench& bench, const Groups& groups, bool placed, std::vector<std::size_t> before);
  void add_removals();
  void add_slidings();
};

}  // namespace ribbay::detail

#pragma once

#include "carcass.hpp"

#include <string>
#include <vector>

/// The folding bunk in parts: bunk_fold.cpp decides where everything stands and makes what stays at
/// the wall, bunk_leaf.cpp what folds, bunk_strap.cpp what holds it folded.
namespace ribbay::detail {

/// Between the leaf and the strip, for the knuckles of the hinges (common practice, no source).
inline constexpr double kFoldGap = 2.0;
/// Screws keep this from the ends of a board and stand at most so far apart (common practice, no
/// source).
inline constexpr double kFoldScrewEnd = 40.0;
inline constexpr double kFoldScrewPitch = 250.0;

/// Where the boards of a folding bunk stand; module axes, open.
///
///     y: 0 guard | front rail .. joists .. rear rail | pin | strip over two bearers | wall
///     z: rails, bearers | deck, strip | guard
///
/// Folded up, what lies on the deck stands behind the pin; folded down, what hangs below it does.
struct FoldPlan {
  const Sheet* deck = nullptr;
  const Sheet* rail = nullptr;   ///< of bearers, rails, joists and pads
  const Sheet* guard = nullptr;  ///< or null
  const ButtHinge* hinge = nullptr;
  bool up = true;
  double front = 0.0;       ///< y of the deck's front edge
  double pin = 0.0;         ///< y of the hinges' axis
  double inner = 0.0;       ///< y of the inner bearer's front face
  double wall = 0.0;        ///< y of the wall bearer's rear face
  double rear_rail = 0.0;   ///< y of the rear rail's front face
  double low = 0.0;         ///< z of the undersides of rails and bearers
  double deck_bottom = 0.0;
  double deck_top = 0.0;
  std::vector<double> joists{};  ///< x of their middles
  std::vector<double> ribs{};    ///< x of the ribs that the wall bearer is screwed to
  double deck_rear() const { return pin - kFoldGap / 2; }
  double strip_front() const { return pin + kFoldGap / 2; }
};

struct FoldWork : Carcass {
  const FoldPlan& plan;

  AskedBy asked(std::string_view field) const { return {request.fields, request.name, field}; }
  /// The middles of the gaps between joists: screws down into rails stand there, clear of those into
  /// the joists' ends.
  std::vector<double> between_joists() const;
};

/// A board of the folding bunk by its box; it is as thick along `normal` as `sheet`.
Board fold_board(std::string name, std::string title, const Sheet& sheet, const Box& box, Vec3 normal,
                 Vec3 along);

/// What folds, with its motion.
void make_leaf(const FoldWork& work);
/// Straps on ribs that hold it folded; warns "bunk.no_rib_for_strap".
void add_straps(const FoldWork& work);
/// Warns "bunk.strap_weak", once the parts are made.
void check_straps(const FoldWork& work);

/// Bearers at the wall and what folds on them.
ModuleParts make_folding_bunk(const ModuleRequest& request);

}  // namespace ribbay::detail

#pragma once

#include "layout/layout.hpp"
#include "print_page.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

/// What the bench must know of one type of part.
namespace ribbay::detail {

/// How much a picture says: every attempt says less than the one before.
struct PictureTry {
  double letters = kFigure;
  bool across = true;  ///< positions along the tape that runs to the right
  bool up = true;      ///< positions along the tape that runs upwards
};

struct Card {
  const PartType* type = nullptr;
  std::string size;      ///< what is sawn
  std::string diagonal;  ///< in brackets, where the piece is a rectangle to be checked; or empty
  std::string ids;       ///< of few parts whose title others bear too; or empty
  std::vector<std::string> notes;
  /// Draws the picture from the upper left corner; nothing when something found no room. Says what
  /// the list tells and the picture does not, if anything.
  std::function<std::optional<std::string>(Drawing&, Vec2 corner, double width, const PictureTry&)>
      picture;
  std::vector<Task> tasks;
};

Card member_card(const Layout& layout, const PartType& type);
Card panel_card(const Layout& layout, const PartType& type);

void add_card(Pager& pages, const Layout& layout, const Card& card);

/// A hole in a picture: a ring when it goes right through, a cross when it is blind, in a dashed
/// ring when it is drilled from face B, which is not the one shown.
void add_hole_mark(Drawing& page, Vec2 at, double radius, const Bore& bore, bool behind, int view);

/// Where the tape hooks on: a solid arrow head that points at the corner from below left.
void add_hook(Drawing& page, Vec2 corner);

}  // namespace ribbay::detail

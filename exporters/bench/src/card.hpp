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
  std::string size;  ///< what is sawn
  std::string diagonal;  ///< in brackets, where the piece is a rectangle to be checked; or empty
  std::vector<std::string> notes;
  /// Draws the picture from the upper left corner; its height, or nothing when something found no
  /// room.
  std::function<std::optional<double>(Drawing&, Vec2 corner, double width, const PictureTry&)>
      picture;
  std::vector<Task> tasks;
};

Card member_card(const Layout& layout, const PartType& type);
Card panel_card(const Layout& layout, const PartType& type);

void add_card(Pager& pages, const Layout& layout, const Card& card);

/// Where the tape hooks on: a solid arrow head that points at the corner from below left.
void add_hook(Drawing& page, Vec2 corner);

}  // namespace ribbay::detail

#include "base/tolerance.hpp"
#include "galley.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Play at each end of a shelf, and how far its front edge stands back (common practice, no
/// source).
constexpr double kPlay = 1.5;
constexpr double kSetback = 20.0;
/// Pin bores stand in rows, so that a shelf can be moved: pitch, and how many above and below its
/// own (common practice, no source: the 32 mm system).
constexpr double kPitch = 32.0;
constexpr int kMore = 2;

/// Reports a shelf that does not fit below the stretchers, or stands where a hinge is.
bool shelf_fits(const GalleyWork& work, const GalleyColumn& column, double height) {
  const GalleyPlan& plan = work.plan;
  const double t = plan.carcass->thickness;
  const double highest = plan.ceiling - plan.floor - t;
  if (height < 0.0 || height > highest + kSame) {
    work.shop.find(work.fault("galley.shelf_no_room", column, "shelves")
                       .with("measured", height, Unit::mm)
                       .with("required", highest, Unit::mm));
    return false;
  }
  if (!column.fields->has("door")) return true;
  for (const double hinge : hinge_heights(plan, column.fields->text("door") == "left")) {
    const double lowest_above = hinge + kHingePlate - plan.floor;
    const double highest_below = hinge - kHingePlate - t - plan.floor;
    if (height >= lowest_above || height <= highest_below) continue;
    work.shop.find(work.fault("galley.shelf_at_hinge", column, "shelves")
                       .with("measured", height, Unit::mm)
                       .with("below", highest_below, Unit::mm)
                       .with("above", lowest_above, Unit::mm));
    return false;
  }
  return true;
}

void add_pins(const GalleyWork& work, const GalleyColumn& column, const std::string& name,
              const Box& shelf) {
  const GalleyPlan& plan = work.plan;
  const Bolt& pin = entry(work.request.catalogue.bolts, work.request.fields.text("shelf_pin"));
  const double z = shelf.lo.z - pin.head_diameter / 2;
  for (const bool left : {true, false}) {
    const std::string& board_name = left ? column.left_board : column.right_board;
    Board& board = work.joinery.board(board_name);
    const double x = left ? column.left : column.right;
    const Vec3 outward{left ? -1.0 : 1.0, 0, 0};
    // In a shared divider the bores of both sides must pass each other.
    const double from_end = left ? 60.0 : 76.0;
    std::vector<std::string> pins;
    for (const auto& [place, y] : {std::pair{"front", plan.carcass_front + from_end},
                                   std::pair{"rear", plan.back_face - from_end}}) {
      for (int k = -kMore; k <= kMore; ++k) {
        const Vec3 at{x, y, z + k * kPitch};
        if (at.z < plan.floor + kPitch / 2 || at.z > plan.ceiling - kPitch / 2) continue;
        board.holes.push_back({.at = at,
                               .direction = outward,
                               .diameter = pin.diameter,
                               .depth = pin.length,
                               .through = false,
                               .role = BoreRole::shelf_pin,
                               .thread = {}});
      }
      pins.push_back(work.shop.add(Fastener{
          .name =
              name + ".pin." + (left ? work.request.left() : work.request.right()) + "_" + place,
          .bolt = &pin,
          .at = {x, y, z},
          .direction = outward,
          .hosts = {board_name, name}}));
    }
    work.joinery.join("on pins", name, board_name, std::move(pins));
  }
}

}  // namespace

void make_shelves(const GalleyWork& work, const GalleyColumn& column) {
  if (!work.names(column, "shelves", "shelf_pin")) return;
  const GalleyPlan& plan = work.plan;
  std::vector<double> heights = column.fields->numbers("shelves");
  std::ranges::sort(heights);
  for (std::size_t i = 0; i < heights.size(); ++i) {
    if (!shelf_fits(work, column, heights[i])) continue;
    const std::string number = std::to_string(i + 1);
    const std::string name = "shelf." + column.key + "_" + number;
    const double z = plan.floor + heights[i];
    const Box box{{column.left + kPlay, plan.carcass_front + kSetback, z},
                  {column.right - kPlay, plan.back_face - kPlay, z + plan.carcass->thickness}};
    work.band_front_edge(work.joinery.add({.name = name,
                                           .title = "Shelf " + number + " of " + column.key,
                                           .sheet = plan.carcass,
                                           .box = box,
                                           .normal = {0, 0, 1},
                                           .along = {1, 0, 0},
                                           .cuts = {},
                                           .holes = {}}));
    add_pins(work, column, name, box);
  }
}

}  // namespace ribbay::detail

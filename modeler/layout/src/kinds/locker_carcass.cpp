#include "base/tolerance.hpp"
#include "locker.hpp"
#include "wall_fixing.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Screws into an upright keep this far from its front and rear edges (common practice, no source).
constexpr double kFromEdge = 40.0;
/// A rib screw keeps this far from uprights, for the driver (common practice, no source).
constexpr double kBesideUpright = 20.0;

/// What a back's housing is longer than the back at each end, so that it runs into those beside it
/// (common practice, no source).
constexpr double kHousingPlay = 3.0;

/// By which a notch is deeper than the rail that slides through it with glue, and longer at each
/// end (common practice, no source).
constexpr double kRailPlay = 0.4;

/// Point in module axes at `a` along a facet and `b` inside it.
Vec3 on_facet(const Facet& facet, double x, double a, double b) {
  const Vec2 p = facet.from + facet.along * a - facet.outward * b;
  return {x, p.x, p.y};
}

/// The four corners of a layer's section, for its housing in an upright, longer by `play` at each
/// end.
std::vector<Vec3> housing(const Facet& facet, LayerSpan span, double near, double far,
                          double play) {
  span = {span.from - play, span.to + play};
  return {on_facet(facet, 0, span.from, near), on_facet(facet, 0, span.to, near),
          on_facet(facet, 0, span.to, far), on_facet(facet, 0, span.from, far)};
}

/// A board that lies along a facet, its face to the room; grain along x.
ShapedBoard lying(const Facet& facet, std::string name, std::string title, const Sheet* sheet,
                  double x0, double x1, LayerSpan span, double near) {
  const Vec3 face{0, -facet.outward.x, -facet.outward.y};
  return {.name = std::move(name),
          .title = std::move(title),
          .sheet = sheet,
          .frame = frame_zx(on_facet(facet, x0, span.from, near), face, {1, 0, 0}),
          .outline = {rectangle({0, 0}, {x1 - x0, span.to - span.from}), {}},
          .cuts = {},
          .holes = {}};
}

/// An upright whose rear edge follows the wall where it stands.
Board upright(const LockerWork& work, const std::string& name, const std::string& title, double x) {
  const LockerPlan& plan = work.plan;
  Board board{.name = name,
              .title = title,
              .sheet = plan.sheet,
              .box = {},
              .normal = {1, 0, 0},
              .along = {0, 0, 1},
              .cuts = {},
              .holes = {},
              .corners = {{x, plan.carcass_front, 0}},
              .band = plan.band,
              .banded = {{0, -1, 0}}};
  for (const Vec2 p :
       wall_line(work.request, x, x + plan.t, work.request.fields.number("wall_gap")))
    board.corners.push_back({x, p.x, p.y});
  board.corners.push_back({x, plan.carcass_front, work.height()});
  for (const Vec3 corner : board.corners) board.box.add(corner);
  board.box.add(Vec3{x + plan.t, plan.carcass_front, 0});
  return board;
}

void add_uprights(const LockerWork& work) {
  const double t = work.plan.t;
  for (const Bay& bay : work.plan.bays) {
    if (bay.left_free)
      work.joinery.add(upright(work, bay.left_board, "Side " + work.side(true), bay.left - t));
    work.joinery.add(upright(work, bay.right_board,
                             bay.right_free ? "Side " + work.side(false)
                                            : "Divider " + work.side(false) + " of " + bay.key,
                             bay.right));
  }
}

/// The bottom or the top of a bay, in rebates of its uprights that run out at the wall; at the ends
/// it is screwed as well.
void add_shelf(const LockerWork& work, const Bay& bay, bool top) {
  const LockerPlan& plan = work.plan;
  const std::string name = (top ? "top." : "bottom.") + bay.key;
  const double z0 = top ? work.height() - plan.t : 0.0;
  const double z1 = z0 + plan.t;
  const double rear = top ? plan.top_rear : plan.bottom_rear;
  work.joinery.add(
      {.name = name,
       .title = (top ? "Top of " : "Bottom of ") + bay.key,
       .sheet = plan.sheet,
       .box = {{bay.left - plan.dado, plan.carcass_front, z0}, {bay.right + plan.dado, rear, z1}},
       .normal = {0, 0, top ? -1.0 : 1.0},
       .along = {1, 0, 0},
       .cuts = {},
       .holes = {},
       .band = plan.band,
       .banded = {{0, -1, 0}}});
  for (const bool left : {true, false}) {
    const std::string& board = left ? bay.left_board : bay.right_board;
    const double face = left ? bay.left : bay.right;
    work.joinery.board(board).cuts.push_back(
        {{{left ? face - plan.dado : face - kPast, plan.carcass_front - kPast,
           top ? z0 : z0 - kPast},
          {left ? face + kPast : face + plan.dado, work.request.size.y + kPast,
           top ? z1 + kPast : z1}},
         CutRole::rebate});
    std::vector<std::string> screws;
    if (left ? bay.left_free : bay.right_free) {
      screws = screw_end(work, board, left, name,
                         {{"front", plan.carcass_front + kFromEdge, (z0 + z1) / 2},
                          {"rear", rear - kFromEdge - plan.lining(), (z0 + z1) / 2}});
    }
    work.joinery.join("rebate", name, board, std::move(screws));
  }
}

/// Names of the back panels of a bay, from the lowest up.
std::string back_name(const Bay& bay, std::size_t facet) {
  return "back." + bay.key + "_" + std::to_string(facet + 1);
}

/// The back of a bay, one panel for each facet, in grooves of its uprights.
void add_back(const LockerWork& work, const Bay& bay) {
  const LockerPlan& plan = work.plan;
  if (plan.back == nullptr) return;
  const double near = plan.rail->thickness;
  for (std::size_t i = 0; i < plan.facets.size(); ++i) {
    const LayerSpan span =
        span_of(plan.facets, i, near, plan.lining(), plan.t, work.height() - plan.t);
    const std::string name = back_name(bay, i);
    work.joinery.add(lying(plan.facets[i], name, "Back of " + bay.key, plan.back,
                           bay.left - plan.dado, bay.right + plan.dado, span, near));
    for (const bool left : {true, false}) {
      const std::string& board = left ? bay.left_board : bay.right_board;
      const double face = left ? bay.left : bay.right;
      work.joinery.board(board).cuts.push_back(
          {.box = {{left ? face - plan.dado : face - kPast, 0, 0},
                   {left ? face + kPast : face + plan.dado, 0, 0}},
           .role = CutRole::groove,
           .corners = housing(plan.facets[i], span, near, plan.lining(), kHousingPlay)});
      work.joinery.join("groove", name, board);
    }
  }
}

/// A rail that lies at the wall from side to side, let into the dividers, and is screwed to ribs
/// through the backs.
void add_rail(const LockerWork& work, bool upper) {
  const LockerPlan& plan = work.plan;
  const std::string name = upper ? "rail.upper" : "rail.lower";
  const std::size_t at = upper ? plan.facets.size() - 1 : 0;
  const Facet& facet = plan.facets[at];
  const double thick = plan.rail->thickness;
  LayerSpan span = span_of(plan.facets, at, 0.0, thick, plan.t, work.height() - plan.t);
  upper ? span.from = span.to - plan.rail_height : span.to = span.from + plan.rail_height;
  const Bay& first = plan.bays.front();
  const Bay& last = plan.bays.back();
  work.joinery.add(lying(facet, name, upper ? "Upper rail" : "Lower rail", plan.rail, first.left,
                         last.right, span, 0.0));
  for (const bool left : {true, false}) {
    const std::string& board = left ? first.left_board : last.right_board;
    std::vector<EndScrew> screws;
    for (const double part : {0.25, 0.75}) {
      const Vec3 p = on_facet(facet, 0, span.from + part * (span.to - span.from), thick / 2);
      screws.push_back({std::to_string(screws.size() + 1), p.y, p.z});
    }
    work.joinery.join("screwed", name, board, screw_end(work, board, left, name, screws));
  }
  for (std::size_t i = 0; i + 1 < plan.bays.size(); ++i) {
    Board& divider = work.joinery.board(plan.bays[i].right_board);
    divider.cuts.push_back(
        {.box = {{divider.box.lo.x - kPast, 0, 0}, {divider.box.hi.x + kPast, 0, 0}},
         .role = CutRole::notch,
         .corners = housing(facet, span, 0.0, thick + kRailPlay, kRailPlay)});
    work.joinery.join("notch", name, divider.name);
  }
  for (const Bay& bay : plan.bays) {
    if (plan.back != nullptr) work.joinery.join("glued", name, back_name(bay, at));
  }
}

/// Screws a rail to the ribs behind it, clear of the uprights.
void screw_rail(const LockerWork& work, bool upper) {
  const LockerPlan& plan = work.plan;
  if (!work.request.fields.has("rib_screw")) return;
  const Bolt& screw = entry(work.request.catalogue.bolts, work.request.fields.text("rib_screw"));
  const std::string name = upper ? "rail.upper" : "rail.lower";
  const std::size_t at = upper ? plan.facets.size() - 1 : 0;
  const Facet& facet = plan.facets[at];
  const LayerSpan span =
      span_of(plan.facets, at, 0.0, plan.rail->thickness, plan.t, work.height() - plan.t);
  const double middle = upper ? span.to - plan.rail_height / 2 : span.from + plan.rail_height / 2;
  const Vec3 outward{0, facet.outward.x, facet.outward.y};
  std::size_t made = 0;
  for (const Bay& bay : plan.bays) {
    for (const RibBehind& behind :
         ribs_behind(work.request, bay.left + kBesideUpright, bay.right - kBesideUpright,
                     on_facet(facet, 0, middle, 0).z)) {
      const Vec3 head = on_facet(facet, behind.x, middle, plan.lining());
      const Vec3 on_rail = on_facet(facet, behind.x, middle, plan.rail->thickness);
      std::vector<std::string> boards{name};
      work.joinery.drill(name, clearance_hole(screw, on_rail, outward, plan.rail->thickness));
      if (plan.back != nullptr) {
        boards.push_back(back_name(bay, at));
        work.joinery.drill(boards.back(),
                           clearance_hole(screw, head, outward, plan.back->thickness));
      }
      screw_to_rib(work,
                   {.name = name + ".rib_screw_" + std::to_string(++made),
                    .screw = &screw,
                    .at = head,
                    .direction = outward,
                    .clamped = plan.lining(),
                    .boards = std::move(boards)},
                   *behind.rib);
    }
  }
  check_ribs(work, name, made);
}

/// What a bay is loaded with, on its bottom.
void add_load(const LockerWork& work, const Bay& bay) {
  const double load = bay.fields->number("load");
  const std::string bottom = "bottom." + bay.key;
  work.shop.made().ports[bay.key] = work.shop.to_van(
      Box{{bay.left, work.plan.carcass_front, work.plan.t},
          {bay.right, work.plan.top_rear - work.plan.lining(), work.height() - work.plan.t}});
  if (load <= 0.0) return;
  work.shop.made().supports.push_back(
      {.id = work.shop.id("load." + bay.key),
       .owner = work.shop.id(bottom),
       .at = work.shop.to_van(Vec3{(bay.left + bay.right) / 2,
                                   (work.plan.carcass_front + work.plan.bottom_rear) / 2,
                                   work.plan.t}),
       .load_kg = load});
}

}  // namespace

void make_locker_carcass(const LockerWork& work) {
  add_uprights(work);
  for (const Bay& bay : work.plan.bays) {
    add_shelf(work, bay, false);
    add_shelf(work, bay, true);
    add_back(work, bay);
    add_load(work, bay);
  }
  for (const bool upper : {false, true}) {
    add_rail(work, upper);
    screw_rail(work, upper);
  }
}

}  // namespace ribbay::detail

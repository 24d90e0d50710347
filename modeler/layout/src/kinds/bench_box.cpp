#include "base/tolerance.hpp"
#include "bench.hpp"

#include <algorithm>
#include <array>

namespace ribbay::detail {

namespace {

/// Screws along an edge stand at most this far apart, and this far from its ends (common practice,
/// no source).
constexpr double kPitch = 250.0;
constexpr double kFromEnd = 40.0;
/// Corners of the opening in an open front (common practice, no source).
constexpr double kOpeningRadius = 20.0;
/// Wood between two vents and beside them.
constexpr double kBetweenVents = 10.0;
/// Wood beside a bay's vents and below the lids.
constexpr double kAroundVents = 20.0;

int axis_of(Vec3 unit) {
  return std::abs(unit.x) > 0.5 ? 0 : std::abs(unit.y) > 0.5 ? 1 : 2;
}

/// Takes a wheel arch out of a board: the board ends there when the arch reaches over all of its
/// width, else it gets a notch. False when nothing is left.
bool cut_around(Board& board, const BenchPlan::Arch& arch, double radius) {
  const int normal = axis_of(board.normal);
  Box cut = arch.box;
  for (int axis = 0; axis < 3; ++axis) {
    if (cut.lo[axis] >= board.box.hi[axis] - kSame || cut.hi[axis] <= board.box.lo[axis] + kSame)
      return true;
  }
  std::vector<int> spanned;
  for (int axis = 0; axis < 3; ++axis) {
    const bool all =
        cut.lo[axis] <= board.box.lo[axis] + kSame && cut.hi[axis] >= board.box.hi[axis] - kSame;
    if (all && axis != normal) spanned.push_back(axis);
  }
  if (spanned.size() == 2) return false;
  if (spanned.size() == 1) {
    const int other = 3 - normal - spanned.front();
    const bool at_low = cut.lo[other] <= board.box.lo[other] + kSame;
    const bool at_high = cut.hi[other] >= board.box.hi[other] - kSame;
    if (at_low) board.box.lo[other] = cut.hi[other];
    if (at_high) board.box.hi[other] = cut.lo[other];
    if (at_low || at_high) return true;
  }
  // Rounded corners of the cut lie outside the board where the arch reaches past it.
  for (int axis = 0; axis < 3; ++axis) {
    cut.lo[axis] = std::max(cut.lo[axis], board.box.lo[axis] - radius - kPast);
    cut.hi[axis] = std::min(cut.hi[axis], board.box.hi[axis] + radius + kPast);
  }
  const int first = normal == 0 ? 1 : 0;
  const int second = 3 - normal - first;
  const Vec3 size = cut.size();
  board.cuts.push_back({.box = cut,
                        .role = CutRole::notch,
                        .radius = std::min({radius, size[first] / 2, size[second] / 2})});
  return true;
}

/// Adds a board with the wheel arches taken out of it; false after saying that nothing is left.
bool add_around_arches(const BenchWork& work, Board board) {
  const int normal = axis_of(board.normal);
  for (const BenchPlan::Arch& arch : work.plan.arches) {
    const double radius = normal == 1 ? arch.radius : normal == 0 ? arch.edge : 0.0;
    if (cut_around(board, arch, radius)) continue;
    Finding finding = input_error("bench.board_in_arch", work.request.fields.place());
    finding.subjects = {work.shop.id(board.name)};
    work.shop.find(std::move(finding));
    return false;
  }
  work.joinery.add(std::move(board));
  return true;
}

Board plain(const BenchWork& work, std::string name, std::string title, Box box, Vec3 normal,
            Vec3 along) {
  return {.name = std::move(name),
          .title = std::move(title),
          .sheet = work.plan.sheet,
          .box = box,
          .normal = normal,
          .along = along,
          .cuts = {},
          .holes = {}};
}

bool add_uprights(const BenchWork& work) {
  const BenchPlan& plan = work.plan;
  const double t = plan.t;
  bool all = true;
  const auto upright = [&](const std::string& name, const std::string& title, double x) {
    all &= add_around_arches(
        work, plain(work, name, title, {{x, t, 0}, {x + t, plan.back, plan.box_top}}, {1, 0, 0},
                    {0, 0, 1}));
  };
  for (const Bay& bay : plan.bays) {
    if (bay.left_free) upright(bay.left_board, "Side " + work.side(true), bay.left - t);
    upright(bay.right_board,
            bay.right_free ? "Side " + work.side(false)
                           : "Divider " + work.side(false) + " of " + bay.key,
            bay.right);
  }
  return all;
}

/// The bottom of a bay stands in rebates of its uprights; at the ends it is screwed as well.
bool add_bottom(const BenchWork& work, const Bay& bay) {
  const BenchPlan& plan = work.plan;
  const double high = plan.bottom->thickness;
  const std::string name = "bottom." + bay.key;
  Board bottom =
      plain(work, name, "Bottom of " + bay.key,
            {{bay.left - plan.dado, plan.t, 0}, {bay.right + plan.dado, plan.back, high}},
            {0, 0, 1}, {1, 0, 0});
  bottom.sheet = plan.bottom;
  if (!add_around_arches(work, bottom)) return false;
  for (const bool left : {true, false}) {
    const std::string& board = left ? bay.left_board : bay.right_board;
    const double face = left ? bay.left : bay.right;
    work.joinery.board(board).cuts.push_back(
        {{{left ? face - plan.dado : face - kPast, plan.t - kPast, -kPast},
          {left ? face + kPast : face + plan.dado, plan.back + kPast, high}},
         CutRole::rebate});
    std::vector<std::string> screws;
    if (left ? bay.left_free : bay.right_free) {
      std::vector<EndScrew> at;
      for (const double y : spread(plan.t + kFromEnd, plan.back - kFromEnd, kPitch)) {
        if (!work.in_arch({face, y, high / 2}))
          at.push_back({std::to_string(at.size() + 1), y, high / 2});
      }
      screws = screw_end(work, board, left, name, at);
    }
    work.joinery.join("rebate", name, board, std::move(screws));
  }
  return true;
}

/// Screws the front or the back to what stands behind it, at these places on its outside.
void screw_face(const BenchWork& work, const std::string& face, const std::string& into,
                const std::vector<Vec3>& places) {
  const bool front = face == "front";
  std::vector<std::string> screws;
  for (const Vec3 at : places) {
    if (work.in_arch(at)) continue;
    screws.push_back(work.joinery.screw(
        {.name = face + ".screw." + into + "_" + std::to_string(screws.size() + 1),
         .field = "screw",
         .at = at,
         .direction = {0, front ? 1.0 : -1.0, 0},
         .from = face,
         .into = into}));
  }
  work.joinery.join("screwed", face, into, std::move(screws));
}

bool add_front_and_back(const BenchWork& work) {
  const BenchPlan& plan = work.plan;
  const Vec3 size = work.request.size;
  bool all = true;
  for (const bool front : {true, false}) {
    const std::string name = front ? "front" : "back";
    const double y = front ? 0.0 : plan.back;
    all &= add_around_arches(work, plain(work, name, front ? "Front" : "Back",
                                         {{0, y, 0}, {size.x, y + plan.t, plan.box_top}},
                                         {0, front ? -1.0 : 1.0, 0}, {1, 0, 0}));
  }
  if (!all) return false;
  for (const bool front : {true, false}) {
    const std::string name = front ? "front" : "back";
    const double outside = front ? 0.0 : size.y;
    const auto upright = [&](const std::string& board) {
      const double x = work.joinery.board(board).box.centre().x;
      std::vector<Vec3> places;
      for (const double z :
           spread(plan.bottom->thickness + kFromEnd, plan.box_top - kFromEnd, kPitch)) {
        places.push_back({x, outside, z});
      }
      screw_face(work, name, board, places);
    };
    for (const Bay& bay : plan.bays) {
      if (bay.left_free) upright(bay.left_board);
      upright(bay.right_board);
      std::vector<Vec3> places;
      const double inset = std::min(kFromEnd, bay.opening() / 3);
      for (const double x : spread(bay.left + inset, bay.right - inset, kPitch))
        places.push_back({x, outside, plan.bottom->thickness / 2});
      const Box& bottom = work.joinery.board("bottom." + bay.key).box;
      const double reaches = front ? bottom.lo.y : bottom.hi.y;
      if (std::abs(reaches - (front ? plan.t : plan.back)) > kSame) continue;  // an arch is there
      screw_face(work, name, "bottom." + bay.key, places);
    }
  }
  return true;
}

/// The opening of an open front: the bay less its rim.
void open_front(const BenchWork& work, const Bay& bay) {
  const BenchPlan& plan = work.plan;
  const double rim = bay.fields->number("rim");
  const Vec3 lo{bay.left + rim, -kPast, plan.bottom->thickness + rim};
  const Vec3 hi{bay.right - rim, plan.t + kPast, plan.box_top - rim};
  const double least = std::min(hi.x - lo.x, hi.z - lo.z);
  if (least < 2 * kOpeningRadius) {
    const double widest = rim - (2 * kOpeningRadius - least) / 2;
    work.shop.find(fault("bench.rim_too_wide", work.asked(bay, "rim"))
                       .with("measured", rim, Unit::mm)
                       .with("required", std::max(widest, 0.0), Unit::mm));
    return;
  }
  work.joinery.board("front").cuts.push_back(
      {.box = {lo, hi}, .role = CutRole::cut_out, .radius = kOpeningRadius});
}

/// Upright slots with round ends, evenly spaced, in the upper part of the bay's front.
void add_vents(const BenchWork& work, const Bay& bay) {
  const BenchPlan& plan = work.plan;
  const auto count = static_cast<int>(bay.fields->number("vents"));
  const double width = work.request.fields.number("vent_width");
  const double height = work.request.fields.number("vent_height");
  const double room = bay.opening() - 2 * kAroundVents;
  const double needed = count * width + (count - 1) * kBetweenVents;
  const double upright = plan.box_top - plan.bottom->thickness - 2 * kAroundVents;
  if (needed > room + kSame || std::max(height, width) > upright + kSame) {
    const bool wide = needed > room + kSame;
    work.shop.find(fault("bench.vents_do_not_fit", work.asked(bay, "vents"))
                       .with("count", count, Unit::count)
                       .with("measured", wide ? needed : std::max(height, width), Unit::mm)
                       .with("required", wide ? room : upright, Unit::mm));
    return;
  }
  const double top = plan.box_top - kAroundVents;
  const double pitch = (room - count * width) / count + width;
  for (int i = 0; i < count; ++i) {
    const double middle = bay.left + kAroundVents + (i + 0.5) * pitch;
    work.joinery.board("front").cuts.push_back({.box = {{middle - width / 2, -kPast, top - height},
                                                        {middle + width / 2, plan.t + kPast, top}},
                                                .role = CutRole::cut_out,
                                                .radius = std::min(width, height) / 2});
  }
}

}  // namespace

bool make_box(const BenchWork& work) {
  bool all = add_uprights(work);
  for (const Bay& bay : work.plan.bays) all = all && add_bottom(work, bay);
  if (!all || !add_front_and_back(work)) return false;
  for (const Bay& bay : work.plan.bays) {
    const bool open = bay.fields->text("front") == "open";
    const bool vents = bay.fields->number("vents") > 0;
    if (open && vents) work.shop.find(fault("bench.vents_in_open_front", work.asked(bay, "vents")));
    if (open) open_front(work, bay);
    if (vents && !open) add_vents(work, bay);
    work.shop.made().ports[bay.key] =
        work.shop.to_van(Box{{bay.left, work.plan.t, work.plan.bottom->thickness},
                             {bay.right, work.plan.back, work.plan.box_top}});
  }
  return true;
}

}  // namespace ribbay::detail

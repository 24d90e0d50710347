#include "base/tolerance.hpp"
#include "butt_hinges.hpp"
#include "table.hpp"
#include "wall_fixing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Between the leaf and the strip, for the knuckles of the hinges (common practice, no source).
constexpr double kLeafGap = 2.0;
constexpr double kScrewPitch = 250.0;
constexpr double kFromEnd = 40.0;

/// Where the wall rail and the strip stand, module y.
struct WallPlan {
  const Sheet* rail = nullptr;
  double wall = 0.0;   ///< rear faces
  double strip = 0.0;  ///< front edge of the strip
};

/// The wall rail below the strip, screwed to the ribs, and the strip on it.
void add_rail(const TableWork& work, const WallPlan& plan) {
  const ModuleRequest& request = work.request;
  const double high = request.fields.number("rail_height");
  const double t = plan.rail->thickness;
  Board& rail = work.joinery.add(
      {.name = "rail",
       .title = "Wall rail",
       .sheet = plan.rail,
       .box = {{0, plan.wall - t, work.under() - high}, {request.size.x, plan.wall, work.under()}},
       .normal = {0, -1, 0},
       .along = {1, 0, 0},
       .cuts = {},
       .holes = {}});
  work.joinery.add(
      {.name = "strip",
       .title = "Hinge strip",
       .sheet = work.top,
       .box = {{0, plan.strip, work.under()}, {request.size.x, plan.wall, request.size.z}},
       .normal = {0, 0, 1},
       .along = {1, 0, 0},
       .cuts = {},
       .holes = {}});
  std::vector<std::string> screws;
  for (const double x : spread(kFromEnd, request.size.x - kFromEnd, kScrewPitch)) {
    screws.push_back(work.joinery.screw({.name = "strip.screw_" + std::to_string(screws.size() + 1),
                                         .field = "screw",
                                         .at = {x, plan.wall - t / 2, request.size.z},
                                         .direction = {0, 0, -1},
                                         .from = "strip",
                                         .into = "rail"}));
  }
  work.joinery.join("screwed", "strip", "rail", std::move(screws));
  if (!request.fields.has("rib_screw")) return;
  const Bolt& screw = entry(request.catalogue.bolts, request.fields.text("rib_screw"));
  const double z = work.under() - high / 2;
  const auto ribs = ribs_behind(request, kFromEnd / 2, request.size.x - kFromEnd / 2, z);
  std::size_t made = 0;
  for (const RibBehind& behind : ribs) {
    const Vec3 head{behind.x, plan.wall - t, z};
    rail.holes.push_back(clearance_hole(screw, head, {0, 1, 0}, t));
    screw_to_rib(work,
                 {.name = "rail.rib_screw_" + std::to_string(++made),
                  .screw = &screw,
                  .at = head,
                  .direction = {0, 1, 0},
                  .clamped = t,
                  .boards = {"rail"}},
                 *behind.rib);
  }
  check_ribs(work, "rail", made);
}

}  // namespace

void make_wall_table(const TableWork& work) {
  const ModuleRequest& request = work.request;
  const bool hinges = names_item(work, work.asked("stands"), "hinge");
  const bool screws = names_item(work, work.asked("stands"), "screw");
  if (!hinges || !screws) return;
  if (!backs_to_wall(request)) {
    work.shop.find(fault("table.not_at_wall", work.asked("faces"))
                       .with("found", request.fields.text("faces")));
    return;
  }
  const double high = request.fields.number("rail_height");
  const auto line = wall_line(request, 0.0, request.size.x, request.fields.number("wall_gap"));
  if (line.empty()) {
    work.shop.find(fault("table.outside_survey", {request.fields, request.name}));
    return;
  }
  if (is_too_small(work, "height", high + work.top->thickness, request.size.z)) return;
  WallPlan plan{.rail = &work.sheet(request.fields.text_or("rail_sheet", work.top->key)),
                .wall = nearest_wall(line, work.under() - high, request.size.z),
                .strip = 0.0};
  plan.strip = plan.wall - request.fields.number("hinge_strip");
  const double leaf = plan.strip - kLeafGap;
  if (is_too_small(work, "depth", request.size.y - leaf + 2 * kLegInset, request.size.y)) return;
  if (!add_top(work, {{}, {request.size.x, leaf}, work.under(), false})) return;
  add_rail(work, plan);
  const ButtHinge& hinge =
      bought(request, request.catalogue.butt_hinges, request.fields.text("hinge"));
  auto motion =
      hang_flap(work,
                {.name = "top",
                 .title = "Table leaf",
                 .asked = work.asked("hinge"),
                 .pin = {0, leaf + kLeafGap / 2, work.under() - hinge.thickness},
                 .along = {1, 0, 0},
                 .from = 0.0,
                 .to = request.size.x,
                 .fixed = {.board = "strip",
                           .across = {0, 1, 0},
                           .into = {0, 0, 1},
                           .face = plan.wall - plan.rail->thickness - leaf - kLeafGap / 2},
                 .moving = {.board = "top", .across = {0, -1, 0}, .into = {0, 0, 1}, .face = leaf},
                 .arm = {0, -1, 0},
                 .towards = {0, 0, -1},
                 .angle = std::numbers::pi,
                 .opens = std::numbers::pi / 2,
                 .spreads = false},
                hinge, {work.shop.id("top")});
  if (!motion) return;
  motion->gives_way = request.name + ".depth";
  // The leg is folded before the leaf drops, and rides along.
  const Leg leg = add_leg(work, {.y = kLegInset, .under = work.under(), .board = "top"});
  motion->after = leg.motion;
  motion->parts.insert(motion->parts.end(), leg.parts.begin(), leg.parts.end());
  work.shop.made().motions.push_back(std::move(*motion));
  add_knee_room(work, 0.0, leaf, work.under());
}

}  // namespace ribbay::detail

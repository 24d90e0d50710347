#include "base/tolerance.hpp"
#include "slide_pair.hpp"
#include "table.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Air over the top and at its ends, so that it slides (common practice, no source).
constexpr double kAir = 3.0;
/// Screws keep this from the ends of a board and stand at most so far apart (common practice, no
/// source).
constexpr double kFromEnd = 40.0;
constexpr double kScrewPitch = 250.0;

/// Where the boards of a sliding table stand.
struct SlidePlan {
  const Slide* slide = nullptr;
  const Sheet* rail = nullptr;  ///< of carriers and sides
  double under = 0.0;           ///< z of the top's underside
  double low = 0.0;             ///< z of the carriers' lower edge
  double side_low = 0.0;
  double back = 0.0;  ///< front face of the board behind
  double side_left() const { return rail->thickness + slide->thickness; }
};

std::vector<double> screw_places(double from, double to) {
  return spread(from + kFromEnd, to - kFromEnd, kScrewPitch);
}

/// Left and right below the worktop, screwed to what stands beside them.
void add_carrier(const TableWork& work, const SlidePlan& plan, bool left) {
  const Record& fields = work.request.fields;
  const Vec3 size = work.request.size;
  const double t = plan.rail->thickness;
  const double x = left ? 0.0 : size.x - t;
  const std::string name = "carrier." + work.side(left);
  Board& board = work.joinery.add({.name = name,
                                   .title = "Slide carrier",
                                   .sheet = plan.rail,
                                   .box = {{x, 0, plan.low}, {x + t, size.y, size.z}},
                                   .normal = {left ? 1.0 : -1.0, 0, 0},
                                   .along = {0, left ? 1.0 : -1.0, 0},
                                   .cuts = {},
                                   .holes = {}});
  if (!fields.has("carrier_screw") || !fields.has("into")) return;
  const Bolt& screw = entry(work.request.catalogue.bolts, fields.text("carrier_screw"));
  const Vec3 outward{left ? -1.0 : 1.0, 0, 0};
  // In a mirrored module what it calls its left stands at the right.
  const std::string& into = fields.texts("into")[left != work.request.mirrored ? 0 : 1];
  std::vector<std::string> ids;
  // Above the slide, whose screws are in its middle.
  const double z = (plan.side_low + plan.slide->height + size.z) / 2;
  for (const double y : screw_places(0.0, plan.back)) {
    const Vec3 at{left ? t : size.x - t, y, z};
    board.holes.push_back(clearance_hole(screw, at, outward, t));
    ids.push_back(work.shop.add(Fastener{.name = name + ".screw_" + std::to_string(ids.size() + 1),
                                         .bolt = &screw,
                                         .at = at,
                                         .direction = outward,
                                         .hosts = {name, into}}));
  }
  work.shop.join("joint." + name, "screwed", {work.shop.id(name), into}, std::move(ids));
}

/// Between the carriers, behind the top.
void add_back(const TableWork& work, const SlidePlan& plan) {
  const Vec3 size = work.request.size;
  const double t = plan.rail->thickness;
  work.joinery.add({.name = "back",
                    .title = "Board behind",
                    .sheet = plan.rail,
                    .box = {{t, plan.back, plan.low}, {size.x - t, size.y, size.z}},
                    .normal = {0, -1, 0},
                    .along = {1, 0, 0},
                    .cuts = {},
                    .holes = {}});
  for (const bool left : {true, false}) {
    std::vector<EndScrew> screws;
    for (const double share : {0.25, 0.75})
      screws.push_back({std::to_string(screws.size() + 1), (plan.back + size.y) / 2,
                        plan.low + share * (size.z - plan.low)});
    const std::string carrier = "carrier." + work.side(left);
    work.joinery.join("screwed", "back", carrier, screw_end(work, carrier, left, "back", screws));
  }
}

/// A side under the top, which is screwed down to it.
std::vector<std::string> add_side(const TableWork& work, const SlidePlan& plan, bool left) {
  const double t = plan.rail->thickness;
  const double x = left ? plan.side_left() : work.request.size.x - plan.side_left() - t;
  const std::string name = "side." + work.side(left);
  work.joinery.add({.name = name,
                    .title = "Table side",
                    .sheet = plan.rail,
                    .box = {{x, 0, plan.side_low}, {x + t, plan.slide->length, plan.under}},
                    .normal = {left ? 1.0 : -1.0, 0, 0},
                    .along = {0, left ? 1.0 : -1.0, 0},
                    .cuts = {},
                    .holes = {}});
  std::vector<std::string> ids{work.shop.id(name)};
  std::vector<std::string> screws;
  for (const double y : screw_places(0.0, plan.slide->length)) {
    screws.push_back(work.joinery.screw(
        {.name = "top." + name + ".screw_" + std::to_string(screws.size() + 1),
         .field = "screw",
         .at = {x + t / 2, y, plan.under + work.top->thickness},
         .direction = {0, 0, -1},
         .from = "top",
         .into = name}));
  }
  ids.insert(ids.end(), screws.begin(), screws.end());
  work.joinery.join("screwed", "top", name, std::move(screws));
  return ids;
}

/// Reports what does not fit. The top lies kAir below the worktop, its sides below it.
bool plan_slides(const TableWork& work, SlidePlan& plan) {
  const ModuleRequest& request = work.request;
  const double high = request.fields.number("rail_height");
  plan.slide = &bought(request, request.catalogue.slides, request.fields.text("slide"));
  plan.rail = &work.sheet(request.fields.text_or("rail_sheet", work.top->key));
  plan.under = request.size.z - kAir - work.top->thickness;
  plan.low = request.size.z - high;
  plan.side_low = plan.under - plan.slide->height;
  plan.back = request.size.y - plan.rail->thickness;
  const double needed = request.size.z - plan.side_low;
  if (is_too_small(work, "rail_height", needed, high)) return false;
  if (is_too_small(work, "height", high, request.size.z)) return false;
  const double t = plan.rail->thickness;
  if (is_too_small(work, "width", 2 * (plan.side_left() + t) + 2 * kFromEnd, request.size.x))
    return false;
  if (plan.slide->length <= plan.back + kSame) return true;
  work.shop.find(fault("table.slide_too_long", work.asked("slide"))
                     .with("slide", plan.slide->key)
                     .with("measured", plan.slide->length, Unit::mm)
                     .with("required", plan.back, Unit::mm));
  return false;
}

}  // namespace

void make_slide_table(const TableWork& work) {
  const ModuleRequest& request = work.request;
  bool all = true;
  for (const char* item : {"slide", "slide_screw", "screw"})
    all &= names_item(work, work.asked("stands"), item);
  SlidePlan plan;
  if (!all || !plan_slides(work, plan)) return;
  const double t = plan.rail->thickness;
  if (!add_top(work, {{t + kAir, 0}, {request.size.x - t - kAir, plan.slide->length}, plan.under,
                      false}))
    return;
  for (const bool left : {true, false}) add_carrier(work, plan, left);
  add_back(work, plan);
  Motion motion{.id = work.shop.id("top"),
                .title = "Table top, sliding out",
                .kind = MotionKind::translation,
                .parts = {work.shop.id("top")},
                .axis = request.direction_to_van({0, -1, 0}),
                .origin = {},
                .travel = plan.slide->travel,
                .required = plan.slide->travel,
                .gives_way = {}};
  const auto take_along = [&](const std::vector<std::string>& ids) {
    motion.parts.insert(motion.parts.end(), ids.begin(), ids.end());
  };
  for (const bool left : {true, false}) take_along(add_side(work, plan, left));
  const std::string side = "side.";
  const std::string carrier = "carrier.";
  take_along(add_slide_pair(
      work, {.name = "top",
             .title = "Table top",
             .slide = plan.slide,
             .front = 0.0,
             .middle = plan.side_low + plan.slide->height / 2,
             .rider_front = 0.0,
             .rider_back = plan.slide->length,
             .screw = "slide_screw",
             .sides = {{{t, carrier + work.side(true), side + work.side(true)},
                        {request.size.x - t, carrier + work.side(false),
                         side + work.side(false)}}}}));
  // It is unfolded when the top is out.
  const Leg leg = add_leg(work, {.y = kLegInset,
                                 .under = plan.under,
                                 .board = "top",
                                 .folded = true,
                                 .brought = {0, -plan.slide->travel, 0},
                                 .after = motion.id});
  take_along(leg.parts);
  add_knee_room(work, -plan.slide->travel, 0.0, plan.under);
  work.shop.made().motions.push_back(std::move(motion));
}

void check_slide_load(const TableWork& work) {
  const Slide& slide = bought(work.request, work.request.catalogue.slides,
                              work.request.fields.text("slide"));
  const auto& motions = work.shop.made().motions;
  const auto top = std::ranges::find(motions, work.shop.id("top"), &Motion::id);
  if (top == motions.end()) return;
  check_slide_load(work.shop, slide, top->parts, 0.0,
                   fault("table.overloaded", work.asked("slide")));
}

}  // namespace ribbay::detail

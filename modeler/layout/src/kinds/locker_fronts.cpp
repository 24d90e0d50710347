#include "base/tolerance.hpp"
#include "cup_hinges.hpp"
#include "locker.hpp"

#include <algorithm>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Outermost hinges from the ends of a leaf's edge, as on cupboard doors (common practice, no
/// source); on the other side of a divider the plates' screws pass each other.
constexpr double kHingeEnd = 100.0;
constexpr double kHingeEndPassing = 110.0;
/// Room between a latch and the board behind the front's free edge.
constexpr double kLatchAir = 5.0;
/// Middle of a stay below the top, and what is left free at its ends.
constexpr double kStayBelow = 40.0;
constexpr double kStayEnds = 5.0;

/// How a front hangs: lift and drop at its upper and lower edge, else at a side.
struct Hanging {
  std::string board;
  Vec3 edge;   ///< a point of the hinge edge; its y does not count
  Vec3 plate;  ///< a point of the carrying board's face
  Vec3 along;
  Vec3 inward;
  double from = 0.0;  ///< the edge, as places along it
  double to = 0.0;
};

Hanging hanging(const LockerWork& work, const Bay& bay, const std::string& way, const Box& leaf) {
  const double t = work.plan.t;
  if (way == "lift" || way == "drop") {
    const bool lift = way == "lift";
    return {.board = (lift ? "top." : "bottom.") + bay.key,
            .edge = {leaf.lo.x, 0, lift ? leaf.hi.z : leaf.lo.z},
            .plate = {0, 0, lift ? work.height() - t : t},
            .along = {1, 0, 0},
            .inward = {0, 0, lift ? -1.0 : 1.0},
            .from = leaf.lo.x,
            .to = leaf.hi.x};
  }
  const bool left = way == "left";
  return {.board = left ? bay.left_board : bay.right_board,
          .edge = {left ? leaf.lo.x : leaf.hi.x, 0, leaf.lo.z},
          .plate = {left ? bay.left : bay.right, 0, 0},
          .along = {0, 0, 1},
          .inward = {left ? 1.0 : -1.0, 0, 0},
          .from = leaf.lo.z,
          .to = leaf.hi.z};
}

Vec3 with_y(Vec3 p, double y) {
  return {p.x, y, p.z};
}

/// A latch in the middle of the leaf's free edge, clear of the board that the edge lies on.
void add_latch(const LockerWork& work, const Bay& bay, const std::string& leaf, const Hanging& hung,
               Motion& motion) {
  if (!work.request.fields.has("latch")) return;
  if (!names_item(work, work.asked(bay, "door"), "latch_screw")) return;
  const Fitting& latch =
      bought(work.request, work.request.catalogue.fittings, work.request.fields.text("latch"));
  const Box size = bounds(body_shape(latch.boxes, latch.rounds));
  const Box& box = work.joinery.board(leaf + ".leaf").box;
  const Vec3 out{0, -1, 0};
  // From the middle of the leaf towards the free edge, as far as the board behind that edge lets
  // it.
  const double reach = std::abs(dot(box.size(), hung.inward)) / 2;
  const double overlay = work.plan.t;
  const Vec3 middle = box.centre() + hung.inward * (reach - overlay - kLatchAir - size.hi.y);
  for (const std::string& id :
       screw_on(work, leaf + ".latch", latch,
                frame_zx(with_y(middle, box.lo.y), out, cross(hung.inward, out)), leaf + ".leaf",
                "latch_screw")) {
    motion.parts.push_back(id);
  }
}

bool opens_far_enough(const LockerWork& work, const Bay& bay, const Hinge& hinge) {
  const double opens = bay.fields->number("opens");
  if (opens <= hinge.opening + kSame) return true;
  constexpr double degrees = 180.0 / std::numbers::pi;
  work.shop.find(fault("carcass.hinge_opens_too_little", work.asked(bay, "opens"))
                     .with("hinge", hinge.key)
                     .with("flap", "the door of " + bay.key)
                     .with("measured", hinge.opening * degrees, Unit::degree)
                     .with("required", opens * degrees, Unit::degree));
  return false;
}

}  // namespace

void make_locker_front(const LockerWork& work, const Bay& bay) {
  const LockerPlan& plan = work.plan;
  const AskedBy asked = work.asked(bay, "door");
  const bool hinges = names_item(work, asked, "hinge");
  const bool screws = names_item(work, asked, "slide_screw");
  if (!hinges || !screws) return;
  const Hinge& hinge =
      bought(work.request, work.request.catalogue.hinges, work.request.fields.text("hinge"));
  const double buffer = work.request.fields.number("buffer");
  if (!hinge_fits(work, asked, hinge, *plan.front, buffer)) return;
  if (!opens_far_enough(work, bay, hinge)) return;

  const std::string& way = bay.fields->text("door");
  const std::string name = "door." + bay.key;
  const Box leaf{{bay.front_left, 0, plan.gap},
                 {bay.front_right, plan.front->thickness, work.height() - plan.gap}};
  work.joinery.add({.name = name + ".leaf",
                    .title = "Door of " + bay.key,
                    .sheet = plan.front,
                    .box = leaf,
                    .normal = {0, -1, 0},
                    .along = {1, 0, 0},
                    .cuts = {},
                    .holes = {},
                    .band = plan.band,
                    .banded = {{-1, 0, 0}, {1, 0, 0}, {0, 0, -1}, {0, 0, 1}}});
  const Hanging hung = hanging(work, bay, way, leaf);
  const double end = way == "right" ? kHingeEndPassing : kHingeEnd;
  Motion motion = hang(work,
                       {.name = name,
                        .title = bay.key,
                        .board = hung.board,
                        .face = with_y(hung.edge, leaf.lo.y),
                        .back = with_y(hung.edge, leaf.hi.y),
                        .plate = with_y(hung.plate, plan.carcass_front),
                        .along = hung.along,
                        .inward = hung.inward,
                        .out = {0, -1, 0}},
                       hinge, hinge_places(hung.from, hung.to, end, way == "right" ? 10.0 : 0.0));
  motion.required = bay.fields->number("opens");
  motion.gives_way = work.request.name + ".bays." + bay.key + ".opens";
  add_latch(work, bay, name, hung, motion);
  work.shop.made().motions.push_back(std::move(motion));
  if (way != "lift" || !work.request.fields.has("stay")) return;
  const double rear = std::min(plan.top_rear, plan.bottom_rear) - plan.lining();
  add_stay(
      work, work.asked(bay, "door"),
      {.name = name + ".stay",
       .board = bay.left_board,
       .middle = {bay.left, (plan.carcass_front + rear) / 2, work.height() - plan.t - kStayBelow},
       .out = {1, 0, 0},
       .along = {0, 1, 0},
       .room = rear - plan.carcass_front - 2 * kStayEnds});
}

}  // namespace ribbay::detail

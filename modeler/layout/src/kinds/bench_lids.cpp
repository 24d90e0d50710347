#include "base/tolerance.hpp"
#include "bench.hpp"
#include "butt_hinges.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace ribbay::detail {

namespace {

/// Middle of a finger hole from the front edge of its lid (common practice, no source).
constexpr double kFingerHole = 60.0;
/// Width of the cleats under a loose lid, their play in the box, and how far it is lifted past them
/// (common practice, no source).
constexpr double kCleat = 40.0;
constexpr double kCleatPlay = 2.0;
constexpr double kLift = 50.0;
/// A stay's middle below the lids, and what is left free at its ends.
constexpr double kStayBelow = 40.0;
constexpr double kStayEnds = 10.0;
/// A lid's end lies on at least this much of a board (common practice, no source).
constexpr double kBearing = 4.0;
constexpr double kScrewPitch = 250.0;

struct Lid {
  std::string name;   ///< "lid_1"
  std::string title;  ///< "Lid 1"
  Box box;
};

bool is_hinged(const BenchWork& work) {
  return work.request.fields.text("lid") == "hinged";
}

AskedBy asked(const BenchWork& work, std::string_view field) {
  return {work.request.fields, work.request.name, field};
}

const ButtHinge& hinge_of(const BenchWork& work) {
  return bought(work.request, work.request.catalogue.butt_hinges,
                work.request.fields.text("hinge"));
}

/// Where the lids end at the back.
double lids_back(const BenchWork& work) {
  if (!is_hinged(work)) return work.request.size.y;
  return work.request.size.y - work.request.fields.number("hinge_strip") -
         2 * hinge_of(work).thickness;
}

/// The lids from left to right; empty after saying that they do not fill the width.
std::vector<Lid> divide_lids(const BenchWork& work) {
  const std::vector<Size>& sizes = work.request.fields.sizes("lids");
  const double gap = work.request.fields.number("lid_gap");
  const Vec3 size = work.request.size;
  const double available = size.x - gap * static_cast<double>(sizes.size() - 1);
  const auto widths = share_out(sizes, available);
  const double sum = widths ? std::accumulate(widths->begin(), widths->end(), 0.0) : 0.0;
  if (!widths || std::ranges::min(*widths) <= 0.0 || std::abs(sum - available) > kContact) {
    const double fixed = std::accumulate(sizes.begin(), sizes.end(), 0.0,
                                         [](double all, const Size& one) { return all + one.mm; });
    work.shop.find(fault("bench.lids_do_not_fit", asked(work, "lids"))
                       .with("measured", fixed, Unit::mm)
                       .with("required", available, Unit::mm)
                       .with("difference", std::abs(fixed - available), Unit::mm));
    return {};
  }
  std::vector<Lid> lids;
  double x = 0.0;
  for (const double width : *widths) {
    const std::string number = std::to_string(lids.size() + 1);
    lids.push_back({.name = "lid_" + number,
                    .title = "Lid " + number,
                    .box = {{x, 0, work.plan.box_top}, {x + width, lids_back(work), size.z}}});
    x += width + gap;
  }
  return lids;
}

/// Warns of a joint between two lids that does not lie over a board.
void check_joints(const BenchWork& work, const std::vector<Lid>& lids) {
  for (std::size_t i = 0; i + 1 < lids.size(); ++i) {
    const double left = lids[i].box.hi.x - kBearing;
    const double right = lids[i + 1].box.lo.x + kBearing;
    const bool carried = std::ranges::any_of(work.plan.bays, [&](const Bay& bay) {
      return bay.right <= left + kSame && right <= bay.right + work.plan.t + kSame;
    });
    if (carried) continue;
    Finding finding = fault("bench.lid_unsupported", asked(work, "lids"));
    finding.severity = Severity::warning;
    work.shop.find(std::move(finding.with("left", lids[i].title)
                                 .with("right", lids[i + 1].title)
                                 .with("measured", (left + right) / 2, Unit::mm)));
  }
}

void add_lid(const BenchWork& work, const Lid& lid) {
  const double hole = work.request.fields.number("finger_hole");
  Board board{.name = lid.name,
              .title = lid.title,
              .sheet = work.plan.lid,
              .box = lid.box,
              .normal = {0, 0, 1},
              .along = {1, 0, 0},
              .cuts = {},
              .holes = {},
              .band = work.plan.band,
              .banded = {{0, -1, 0}, {-1, 0, 0}, {1, 0, 0}}};
  if (!is_hinged(work)) board.banded.push_back({0, 1, 0});
  if (hole > 0.0) {
    const double x = lid.box.centre().x;
    const double y = std::max(kFingerHole, work.plan.t + hole);
    board.cuts.push_back({.box = {{x - hole / 2, y - hole / 2, lid.box.lo.z - kPast},
                                  {x + hole / 2, y + hole / 2, lid.box.hi.z + kPast}},
                          .role = CutRole::cut_out,
                          .radius = hole / 2});
  }
  work.joinery.add(std::move(board));
}

/// The strip along the back that hinged lids turn on.
void add_strip(const BenchWork& work) {
  const BenchPlan& plan = work.plan;
  const Vec3 size = work.request.size;
  const double front = size.y - work.request.fields.number("hinge_strip");
  work.joinery.add({.name = "strip",
                    .title = "Hinge strip",
                    .sheet = plan.lid,
                    .box = {{0, front, plan.box_top}, size},
                    .normal = {0, 0, 1},
                    .along = {1, 0, 0},
                    .cuts = {},
                    .holes = {}});
  std::vector<std::string> screws;
  for (const double x : spread(kCleat, size.x - kCleat, kScrewPitch)) {
    screws.push_back(work.joinery.screw({.name = "strip.screw_" + std::to_string(screws.size() + 1),
                                         .field = "screw",
                                         .at = {x, plan.back + plan.t / 2, size.z},
                                         .direction = {0, 0, -1},
                                         .from = "strip",
                                         .into = "back"}));
  }
  work.joinery.join("screwed", "strip", "back", std::move(screws));
}

/// The bay whose storage lies under the middle of a lid.
const Bay& bay_under(const BenchWork& work, const Lid& lid) {
  const double x = lid.box.centre().x;
  const auto found = std::ranges::find_if(
      work.plan.bays, [&](const Bay& bay) { return x < bay.right + work.plan.t; });
  return found == work.plan.bays.end() ? work.plan.bays.back() : *found;
}

/// The first lid over a bay has its stay at the left of it, another one at the right; for more there
/// is no board, which is reported.
void add_lid_stay(const BenchWork& work, const Lid& lid, const std::vector<Lid>& lids) {
  if (!work.request.fields.has("stay")) return;
  const BenchPlan& plan = work.plan;
  const Bay& bay = bay_under(work, lid);
  const auto beside = [&](const Lid& other) { return &bay_under(work, other) == &bay; };
  const auto before = std::ranges::count_if(lids, [&](const Lid& other) {
    return beside(other) && other.box.lo.x < lid.box.lo.x;
  });
  if (before > 1) {
    work.shop.find(fault("bench.stay_no_board", asked(work, "lids"))
                       .with("lid", lid.title)
                       .with("bay", bay.key));
    return;
  }
  const bool left = before == 0;
  add_stay(work, asked(work, "stay"),
           {.name = lid.name + ".stay",
            .board = left ? bay.left_board : bay.right_board,
            .middle = {left ? bay.left : bay.right, (plan.t + plan.back) / 2,
                       plan.box_top - kStayBelow},
            .out = {left ? 1.0 : -1.0, 0, 0},
            .along = {0, 1, 0},
            .room = plan.back - plan.t - 2 * kStayEnds});
}

void hinge_lid(const BenchWork& work, const Lid& lid, const std::vector<Lid>& lids) {
  const ButtHinge& hinge = hinge_of(work);
  const double face = work.plan.lid->thickness;
  auto motion = hang_flap(
      work,
      {.name = lid.name,
       .title = lid.title,
       .asked = asked(work, "hinge"),
       .pin = {0, lid.box.hi.y + hinge.thickness, lid.box.hi.z},
       .along = {1, 0, 0},
       .from = lid.box.lo.x,
       .to = lid.box.hi.x,
       .fixed = {.board = "strip", .across = {0, 0, -1}, .into = {0, 1, 0}, .face = face},
       .moving = {.board = lid.name, .across = {0, 0, -1}, .into = {0, -1, 0}, .face = face},
       .arm = {0, -1, 0},
       .towards = {0, 0, 1},
       .angle = 0.0,
       .opens = work.request.fields.number("opens")},
      hinge, {work.shop.id(lid.name)});
  if (!motion) return;
  motion->gives_way = work.request.name + ".opens";
  work.shop.made().motions.push_back(std::move(*motion));
  add_lid_stay(work, lid, lids);
}

/// Two cleats under a loose lid keep it from sliding off the box; it lifts out.
void loosen_lid(const BenchWork& work, const Lid& lid) {
  const BenchPlan& plan = work.plan;
  const Bay& bay = bay_under(work, lid);
  const double x0 = std::max(lid.box.lo.x, bay.left) + kCleatPlay;
  const double x1 = std::min(lid.box.hi.x, bay.right) - kCleatPlay;
  std::vector<std::string> moving{work.shop.id(lid.name)};
  for (const bool front : {true, false}) {
    const std::string name = lid.name + ".cleat." + (front ? "front" : "rear");
    const double y = front ? plan.t + kCleatPlay : plan.back - kCleatPlay - kCleat;
    work.joinery.add({.name = name,
                      .title = lid.title + ", cleat",
                      .sheet = plan.sheet,
                      .box = {{x0, y, plan.box_top - plan.t}, {x1, y + kCleat, plan.box_top}},
                      .normal = {0, 0, 1},
                      .along = {1, 0, 0},
                      .cuts = {},
                      .holes = {}});
    moving.push_back(work.shop.id(name));
    std::vector<std::string> screws;
    const double inset = std::min(kCleat, (x1 - x0) / 4);
    for (const double x : spread(x0 + inset, x1 - inset, kScrewPitch)) {
      screws.push_back(
          work.joinery.screw({.name = name + ".screw_" + std::to_string(screws.size() + 1),
                              .field = "panel_screw",
                              .at = {x, y + kCleat / 2, plan.box_top - plan.t},
                              .direction = {0, 0, 1},
                              .from = name,
                              .into = lid.name}));
      moving.push_back(screws.back());
    }
    work.joinery.join("screwed", name, lid.name, std::move(screws));
  }
  const Vec3 up = work.request.direction_to_van({0, 0, 1});
  std::vector<std::string> along(moving.begin() + 1, moving.end());
  work.shop.made().removals.push_back({.id = moving.front(),
                                       .direction = up,
                                       .travel = plan.t,
                                       .fasteners = 0,
                                       .along = std::move(along),
                                       .life_years = 0.0});
  work.shop.made().motions.push_back(
      {.id = moving.front(),
       .title = lid.title,
       .kind = MotionKind::translation,
       .parts = moving,
       .axis = up,
       .origin = work.shop.to_van(Vec3{lid.box.lo.x, 0, plan.box_top}),
       .travel = plan.t + kLift,
       .required = plan.t + kLift,
       .gives_way = {}});
}

/// Who sits on the bench loads its lids, evenly along it.
void seat_persons(const BenchWork& work, const std::vector<Lid>& lids) {
  const auto persons = static_cast<int>(work.request.fields.number("persons"));
  const double mass = work.request.fields.number("person_mass");
  const Vec3 size = work.request.size;
  for (int i = 0; i < persons; ++i) {
    const double x = size.x * (i + 0.5) / persons;
    const auto under =
        std::ranges::find_if(lids, [&](const Lid& lid) { return x <= lid.box.hi.x; });
    const Lid& lid = under == lids.end() ? lids.back() : *under;
    work.shop.made().supports.push_back({.id = work.shop.id("person_" + std::to_string(i + 1)),
                                         .owner = work.shop.id(lid.name),
                                         .at = work.shop.to_van(Vec3{x, size.y / 2, size.z}),
                                         .load_kg = mass});
  }
}

}  // namespace

void make_lids(const BenchWork& work) {
  const bool hinged = is_hinged(work);
  if (!names_item(work, asked(work, "lid"), hinged ? "hinge" : "panel_screw")) return;
  const std::vector<Lid> lids = divide_lids(work);
  if (lids.empty()) return;
  check_joints(work, lids);
  if (hinged) add_strip(work);
  for (const Lid& lid : lids) {
    add_lid(work, lid);
    hinged ? hinge_lid(work, lid, lids) : loosen_lid(work, lid);
  }
  seat_persons(work, lids);
}

}  // namespace ribbay::detail

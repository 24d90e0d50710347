#include "base/tolerance.hpp"
#include "bunk_fold.hpp"
#include "wall_fixing.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// From the edge of the folded leaf to the middle of what holds the strap (common practice, no
/// source).
constexpr double kPastEdge = 40.0;
/// Share of its weight that may pull the folded leaf off its side wall: the largest that is held
/// against sideways in vans up to 2 t. Source: VDI 2700 part 16, as told by Berg, Sicks and Cheynet,
/// ESV paper 09-0008, figure 1.
constexpr double kSideways = 0.7;
constexpr double kGravity = 9.81;

/// The outermost two of the ribs behind the leaf at a height.
std::vector<RibBehind> strap_ribs(const FoldWork& work, double z) {
  std::vector<RibBehind> ribs = ribs_behind(work.request, kFoldScrewEnd,
                                            work.request.size.x - kFoldScrewEnd, z);
  if (ribs.size() > 2) ribs.erase(ribs.begin() + 1, ribs.end() - 1);
  return ribs;
}

/// The face of a rib that looks into the van.
double face_of(const FoldWork& work, const RibBehind& behind, const Box& plate, double z) {
  const ModuleRequest& request = work.request;
  const Vec3 at = request.to_van({behind.x, 0, z});
  const double half = plate.size().x / 2;
  const auto clear = clear_width(request.vehicle, at.x - half, at.x + half, at.z + plate.lo.y,
                                 at.z + plate.hi.y);
  if (!clear) return request.size.y;
  const bool left = behind.rib->side == VanSide::left;
  return request.from_van({at.x, left ? clear->left : clear->right, at.z}).y;
}

void add_strap(const FoldWork& work, const Fitting& strap, const RibBehind& behind, double z,
               const std::string& name) {
  const ModuleRequest& request = work.request;
  const Bolt& screw = entry(request.catalogue.bolts, request.fields.text("strap_screw"));
  const Box body = bounds(body_shape(strap.boxes, strap.rounds));
  const Frame frame = frame_zx({behind.x, face_of(work, behind, body, z), z}, {0, -1, 0}, {1, 0, 0});
  work.shop.add_fitting(name, strap, frame, {"vehicle/rib." + behind.rib->name});
  for (const FixingHole& hole : strap.holes) {
    screw_to_rib(work,
                 {.name = name + ".screw." + hole.name,
                  .screw = &screw,
                  .at = frame.point(hole.at),
                  .direction = frame.direction(hole.direction),
                  .clamped = hole.at.z,
                  .boards = {name}},
                 *behind.rib);
  }
}

}  // namespace

void add_straps(const FoldWork& work) {
  const FoldPlan& plan = work.plan;
  const ModuleRequest& request = work.request;
  if (!request.fields.has("strap") || !names_item(work, work.asked("strap"), "strap_screw")) return;
  const Fitting& strap = bought(request, request.catalogue.fittings, request.fields.text("strap"));
  const double leaf = plan.pin - plan.front;
  const double z = plan.up ? plan.deck_top + leaf + kPastEdge : plan.deck_bottom - leaf - kPastEdge;
  const auto ribs = strap_ribs(work, z);
  if (ribs.empty()) {
    Finding finding = fault("bunk.no_rib_for_strap", work.asked("strap"));
    finding.severity = Severity::warning;
    work.shop.find(std::move(finding.with("height", request.to_van({0, 0, z}).z, Unit::mm)));
    return;
  }
  int number = 0;
  for (const RibBehind& rib : ribs)
    add_strap(work, strap, rib, z, "strap_" + std::to_string(++number));
}

void check_straps(const FoldWork& work) {
  const auto& motions = work.shop.made().motions;
  const auto fold = std::ranges::find(motions, work.shop.id("leaf"), &Motion::id);
  if (!work.request.fields.has("strap") || !work.plan.up || fold == motions.end()) return;
  const Fitting& strap =
      bought(work.request, work.request.catalogue.fittings, work.request.fields.text("strap"));
  double mass = 0.0;
  double held = 0.0;
  for (const Part& part : work.shop.made().parts) {
    if (std::ranges::find(fold->parts, part.id) != fold->parts.end()) mass += part.mass_kg;
    if (part.stock.key == strap.key) held += strap.hold_n;
  }
  // The leaf turns about its hinges: its weight pulls at half its depth, the straps past its edge.
  const double leaf = work.plan.pin - work.plan.front;
  const double needed = kSideways * mass * kGravity * (leaf / 2) / (leaf + kPastEdge);
  if (held <= 0.0 || held >= needed) return;
  Finding finding = fault("bunk.strap_weak", work.asked("strap"));
  finding.severity = Severity::warning;
  work.shop.find(std::move(finding.with("strap", strap.key)
                               .with("measured", held, Unit::newton)
                               .with("required", needed, Unit::newton)));
}

}  // namespace ribbay::detail

#include "base/tolerance.hpp"
#include "sled.hpp"
#include "threads.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Screws of the sides into the base keep this from its ends and stand at most so far apart; holes
/// keep this many diameters from the edge of a leg. Common practice, no source.
constexpr double kScrewFromEnd = 40.0;
constexpr double kScrewPitch = 150.0;
constexpr double kFromEdge = 1.5;
/// From this modulus on a metal holds a thread like steel, MPa. Common practice, no source.
constexpr double kStiffAsSteel = 150000.0;

/// A side of the base, screwed to its edge.
void add_side(SledWork& work, bool left) {
  const Sheet& sheet = *work.stock.sides;
  const std::string name = "side." + work.side(left);
  const double x = left ? work.base_left() - sheet.thickness : work.base_right();
  work.joinery.add({.name = name,
                    .title = "Sled side",
                    .sheet = &sheet,
                    .box = {{x, 0, work.sizes.lift},
                            {x + sheet.thickness, work.base_back(), work.sizes.side_top}},
                    .normal = {left ? 1.0 : -1.0, 0, 0},
                    .along = {0, left ? 1.0 : -1.0, 0},
                    .cuts = {},
                    .holes = {}});
  work.moving.push_back(work.shop.id(name));
  std::vector<EndScrew> screws;
  for (const double y : spread(kScrewFromEnd, work.base_back() - kScrewFromEnd, kScrewPitch)) {
    screws.push_back(
        {std::to_string(screws.size() + 1), y, (work.sizes.lift + work.sizes.base_top) / 2});
  }
  std::vector<std::string> ids;
  for (const EndScrew& screw : screws) {
    ids.push_back(work.joinery.screw({.name = name + ".screw_" + screw.place,
                                      .field = "side_screw",
                                      .at = {left ? x : x + sheet.thickness, screw.y, screw.z},
                                      .direction = {left ? 1.0 : -1.0, 0, 0},
                                      .from = name,
                                      .into = "base"}));
  }
  work.joinery.join("screwed", name, "base", std::move(ids));
}

/// Diameters that a thread must hold over in the runner.
double thread_hold(const SledWork& work) {
  const auto material = work.request.catalogue.materials.find(work.stock.runner->material);
  const bool steel = material != work.request.catalogue.materials.end() &&
                     material->second.modulus_mpa >= kStiffAsSteel;
  return steel ? kSteelThreadHold : kThreadHold;
}

void check_bolt(const SledWork& work, const Bolt& bolt, double middle) {
  const Profile& runner = *work.stock.runner;
  const double held = std::min(bolt.length - kSlideSteel, work.sizes.leg);
  const double wanted = thread_hold(work) * bolt.diameter;
  if (held < wanted - kSame) {
    work.shop.find(work.fault("sled.thread", "slide_bolt")
                       .with("stock", bolt.key)
                       .with("runner", runner.key)
                       .with("measured", held, Unit::mm)
                       .with("required", wanted, Unit::mm));
  }
  const double high = middle + kFromEdge * bolt.diameter;
  if (high > runner.height + kSame) {
    work.shop.find(work.fault("sled.runner_low", "runner")
                       .with("stock", runner.key)
                       .with("slide", work.stock.slide->key)
                       .with("measured", runner.height, Unit::mm)
                       .with("required", high, Unit::mm));
  }
}

/// A screw of the half that stands still: its thread is cut in the runner's upright leg.
std::vector<std::string> bolt_to_runner(SledWork& work, const Bolt& bolt, const Screw& screw) {
  Bar& bar = work.runners[screw.direction.x < 0.0 ? 0 : 1];
  const double face = screw.direction.x < 0.0 ? work.sizes.leg
                                              : work.request.size.x - work.sizes.leg;
  bar.holes.push_back({.at = {face, screw.at.y, screw.at.z},
                       .direction = screw.direction,
                       .diameter = tapping_drill(bolt.diameter),
                       .depth = work.sizes.leg,
                       .through = true,
                       .role = BoreRole::bolt,
                       .thread = thread_name(bolt.diameter)});
  return {work.shop.add(Fastener{.name = screw.name,
                                 .bolt = &bolt,
                                 .at = screw.at,
                                 .direction = screw.direction,
                                 .hosts = {screw.from, screw.into}})};
}

}  // namespace

void add_slides(SledWork& work) {
  const Slide& slide = *work.stock.slide;
  for (const bool left : {true, false}) add_side(work, left);
  const Bolt& bolt = entry(work.request.catalogue.bolts, work.request.fields.text("slide_bolt"));
  const double middle = work.sizes.lift + slide.height / 2;
  check_bolt(work, bolt, middle);
  const double right = work.request.size.x - work.sizes.leg;
  const auto moving = add_slide_pair(
      work,
      {.name = "sled",
       .title = "Sled",
       .slide = &slide,
       .front = 0.0,
       .middle = middle,
       .rider_front = 0.0,
       .rider_back = slide.length,
       .screw = "slide_screw",
       .sides = {{{work.sizes.leg, work.runner(true), "side." + work.side(true)},
                  {right, work.runner(false), "side." + work.side(false)}}}},
      [&](const Screw& screw) { return bolt_to_runner(work, bolt, screw); });
  work.moving.insert(work.moving.end(), moving.begin(), moving.end());
}

}  // namespace ribbay::detail

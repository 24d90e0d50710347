#include "base/tolerance.hpp"
#include "sled.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Screws of a runner keep this from its ends and stand at most so far apart. Common practice, no
/// source.
constexpr double kScrewFromEnd = 30.0;
constexpr double kScrewPitch = 300.0;

/// The leg that the base slides on points inwards.
Bar runner_bar(const SledWork& work, bool left) {
  const Profile& runner = *work.stock.runner;
  const Vec3 size = work.request.size;
  return {.name = work.runner(left),
          .title = "Runner",
          .profile = &runner,
          .from = {left ? runner.width / 2 : size.x - runner.width / 2, left ? size.y : 0.0,
                   runner.height / 2},
          .direction = {0, left ? -1.0 : 1.0, 0},
          .across = {left ? 1.0 : -1.0, 0, 0},
          .length = size.y,
          .holes = {}};
}

/// A cross angle on the runners; its upright leg faces the base, the other one takes the runners'
/// rearmost screws.
Bar stop_bar(const SledWork& work) {
  const Profile& angle = *work.stock.runner;
  return {.name = "stop",
          .title = "Stop",
          .profile = &angle,
          .from = {work.sizes.inset, work.request.size.y - angle.width / 2,
                   work.sizes.leg + angle.height / 2},
          .direction = {1, 0, 0},
          .across = {0, 1, 0},
          .length = work.request.size.x - 2 * work.sizes.inset,
          .holes = {}};
}

/// Where the screws of a runner stand along it: behind those of its clamp. The last one goes through
/// the stop as well.
std::vector<double> screw_places(const SledWork& work) {
  const double front = work.stock.clamp != nullptr
                           ? work.sizes.rim + work.sizes.clamp.y + kScrewFromEnd / 2
                           : kScrewFromEnd;
  const double back = work.sizes.stop > 0.0
                          ? work.request.size.y - (work.stock.runner->width - work.sizes.flat) / 2
                          : work.request.size.y - kScrewFromEnd;
  return spread(front, std::max(back, front), kScrewPitch);
}

/// Distance of the screws from the outside of a runner: in line with its clamp, or else in the middle
/// of what is flat of the leg, and of the base that hides it.
double screw_line(const SledWork& work) {
  if (work.stock.clamp != nullptr) return work.clamp_line();
  const double hidden = work.stock.slide != nullptr ? 0.0 : work.sizes.inset;
  return (std::max(work.sizes.flat, hidden) + work.stock.runner->width) / 2;
}

/// Heads must be sunk in the leg: the base slides over them, and the stop's stand with them.
bool heads_fit(const SledWork& work, const Bolt& screw) {
  if (screw.countersunk && screw.head_height <= work.sizes.leg + kSame) return true;
  work.shop.find(work.fault("sled.screw_head", "screw")
                     .with("stock", screw.key)
                     .with("measured", screw.countersunk ? screw.head_height : 0.0, Unit::mm)
                     .with("required", work.sizes.leg, Unit::mm));
  return false;
}

}  // namespace

void add_runners(SledWork& work) {
  for (const bool left : {true, false}) work.runners.push_back(runner_bar(work, left));
}

std::string screw_through_runner(SledWork& work, bool left, const Fastener& wanted) {
  Bar& bar = work.runners[left ? 0 : 1];
  const Vec3 on_leg{wanted.at.x, wanted.at.y, work.sizes.leg};
  bar.holes.push_back(clearance_hole(*wanted.bolt, on_leg, {0, 0, -1}, work.sizes.leg));
  Fastener screw = wanted;
  screw.hosts.push_back(work.shop.id(bar.name));
  const bool elsewhere = work.request.fields.has("into");
  screw.hosts.push_back(elsewhere ? work.request.fields.text("into") : "vehicle/floor");
  std::string id = work.shop.add(screw);
  if (!elsewhere) {
    const Vec3 van = work.shop.to_van(screw.at);
    const double d = screw.bolt->diameter;
    work.shop.made().floor_bolts.push_back(
        {.id = id,
         .at = {van.x, van.y},
         .diameter = d,
         .over_joist = over_joist(work.request.vehicle, {van.x, van.y}, d)});
  }
  return id;
}

void fix_runners(SledWork& work) {
  std::optional<Bar> stop;
  if (work.sizes.stop > 0.0) stop = stop_bar(work);
  const std::string stop_id = work.shop.id("stop");
  const Bolt* screw = work.request.fields.has("screw")
                          ? &entry(work.request.catalogue.bolts, work.request.fields.text("screw"))
                          : nullptr;
  if (screw != nullptr && !heads_fit(work, *screw)) screw = nullptr;
  const std::string ground = work.request.fields.text_or("into", "vehicle/floor");
  for (const bool left : {true, false}) {
    const std::string name = work.runner(left);
    const double in = screw_line(work);
    const double x = left ? in : work.request.size.x - in;
    std::vector<std::string> hardware;
    const std::vector<double> places = screw == nullptr ? std::vector<double>{} : screw_places(work);
    for (const double y : places) {
      const bool through_stop = stop && y == places.back();
      Fastener wanted{.name = name + ".screw_" + std::to_string(hardware.size() + 1),
                      .bolt = screw,
                      .at = {x, y, work.sizes.leg},
                      .direction = {0, 0, -1},
                      .hosts = {}};
      if (through_stop) {
        wanted.at.z += work.sizes.leg;
        wanted.hosts.push_back(stop_id);
        stop->holes.push_back(clearance_hole(*screw, wanted.at, {0, 0, -1}, work.sizes.leg));
      }
      hardware.push_back(screw_through_runner(work, left, wanted));
    }
    std::vector<std::string> last;
    if (!hardware.empty()) last.push_back(hardware.back());
    const std::string id = work.shop.id(name);
    if (stop) {
      const char* kind = last.empty() ? "rests on" : "screwed";
      work.shop.join("joint.stop.to." + name, kind, {stop_id, id}, std::move(last));
    }
    if (!hardware.empty())
      work.shop.join("joint." + name, "screwed", {id, ground}, std::move(hardware));
  }
  if (stop) work.shop.add(*stop);
  for (const Bar& bar : work.runners) work.shop.add(bar);
}

}  // namespace ribbay::detail

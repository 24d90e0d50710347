#include "base/tolerance.hpp"
#include "table.hpp"

#include <cmath>

namespace ribbay::detail {

namespace {

/// How far the top is lifted past its posts (common practice, no source).
constexpr double kLift = 20.0;
/// A post may miss the top's height by this.
constexpr double kPlay = 0.5;

struct Sockets {
  const Fitting& socket;
  const Fitting& post;
  double depth = 0.0;  ///< height of a socket
};

/// A socket on the floor with its screws.
std::string add_floor_socket(const TableWork& work, const Sockets& plan, const std::string& name,
                             Vec3 at) {
  const Frame frame{.origin = at};
  const std::string id = work.shop.add_fitting(name, plan.socket, frame, {"vehicle/floor"});
  const Bolt& screw = entry(work.request.catalogue.bolts, work.request.fields.text("socket_screw"));
  std::vector<std::string> hardware{id};
  for (const FixingHole& hole : plan.socket.holes) {
    const Vec3 head = frame.point(hole.at);
    hardware.push_back(work.shop.add(Fastener{.name = name + ".screw." + hole.name,
                                              .bolt = &screw,
                                              .at = head,
                                              .direction = frame.direction(hole.direction),
                                              .hosts = {name, "vehicle/floor"}}));
    const Vec3 place = work.shop.to_van(head);
    work.shop.made().floor_bolts.push_back(
        {.id = hardware.back(),
         .at = {place.x, place.y},
         .diameter = screw.diameter,
         .over_joist = over_joist(work.request.vehicle, {place.x, place.y}, screw.diameter)});
  }
  work.shop.join("joint." + name, "screwed to the floor", {id, "vehicle/floor"},
                 std::move(hardware));
  return id;
}

/// A post in its two sockets; returns what lifts off with the top.
std::vector<std::string> add_post(const TableWork& work, const Sockets& plan,
                                  const std::string& number, double x) {
  const double y = work.request.size.y / 2;
  const std::string lower = "socket_" + number + ".floor";
  const std::string upper = "socket_" + number + ".top";
  const std::string post = "post_" + number;
  add_floor_socket(work, plan, lower, {x, y, 0});
  std::vector<std::string> lifts =
      screw_on(work, upper, plan.socket, frame_zx({x, y, work.under()}, {0, 0, -1}, {1, 0, 0}),
               "top", "socket_screw");
  const std::string id = work.shop.add_fitting(post, plan.post, Frame{.origin = {x, y, 0}},
                                               {lower, upper, "top", "vehicle/floor"});
  work.shop.join("joint." + upper, "screwed", {work.shop.id("top"), lifts.front()}, lifts);
  work.shop.join("joint." + post, "plugged in", {id, work.shop.id(lower), work.shop.id(upper)});
  return lifts;
}

}  // namespace

void make_post_table(const TableWork& work) {
  const ModuleRequest& request = work.request;
  bool all = true;
  for (const char* item : {"post", "socket", "socket_screw"})
    all &= names_item(work, work.asked("stands"), item);
  if (!all || !add_top(work, {{}, {request.size.x, request.size.y}, work.under(), true})) return;
  const auto fitting = [&](const char* field) -> const Fitting& {
    return bought(request, request.catalogue.fittings, request.fields.text(field));
  };
  Sockets plan{.socket = fitting("socket"), .post = fitting("post"), .depth = 0.0};
  plan.depth = bounds(body_shape(plan.socket.boxes, plan.socket.rounds)).hi.z;
  const double length = bounds(body_shape(plan.post.boxes, plan.post.rounds)).hi.z;
  if (std::abs(length - work.under()) > kPlay) {
    work.shop.find(fault("table.post_length", work.asked("post"))
                       .with("post", plan.post.key)
                       .with("measured", length, Unit::mm)
                       .with("required", work.under(), Unit::mm)
                       .with("height", length + work.top->thickness, Unit::mm));
  }
  const auto posts = static_cast<int>(request.fields.number("posts"));
  std::vector<std::string> lifts{work.shop.id("top")};
  for (int i = 0; i < posts; ++i) {
    const double x = request.size.x * (2 * i + 1) / (2 * posts);
    for (const std::string& id : add_post(work, plan, std::to_string(i + 1), x))
      lifts.push_back(id);
  }
  const Vec3 up = request.direction_to_van({0, 0, 1});
  std::vector<std::string> along(lifts.begin() + 1, lifts.end());
  work.shop.made().removals.push_back({.id = lifts.front(),
                                       .direction = up,
                                       .travel = plan.depth,
                                       .fasteners = 0,
                                       .along = std::move(along),
                                       .life_years = 0.0});
  work.shop.made().motions.push_back({.id = lifts.front(),
                                      .title = "Table top",
                                      .kind = MotionKind::translation,
                                      .parts = lifts,
                                      .axis = up,
                                      .origin = work.shop.to_van(Vec3{0, 0, work.under()}),
                                      .travel = plan.depth + kLift,
                                      .required = plan.depth + kLift,
                                      .gives_way = request.name + ".height"});
  add_knee_room(work, 0.0, request.size.y, work.under());
}

}  // namespace ribbay::detail

#include "base/tolerance.hpp"
#include "rack.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace ribbay::detail {

namespace {

void put(RackWork& w, Bar bar) {
  std::string name = bar.name;
  w.bench.emplace(std::move(name), Workpiece{std::move(bar)});
}

/// Notes one end of a rail: `at` is on the post's face (its z is ignored).
void end_rail(RackWork& w, std::size_t level, Vec3 at, RailEnd end) {
  const bool above = w.brackets_above(level);
  at.z = above ? w.rail_top(level) : w.levels[level];
  end.name = end.name.substr(5);  // without "rail."
  end.leg = {0, 0, above ? 1.0 : -1.0};
  end.corner = at;
  w.ends.push_back(std::move(end));
}

void add_side_rail(RackWork& w, std::size_t level, std::size_t i) {
  const std::string name = "rail." + RackWork::level_name(level) + ".side_" + w.line(i);
  put(w, Bar{.name = name,
             .title = "Side rail",
             .profile = &w.profile,
             .from = {w.lines[i], w.side, w.levels[level] + w.side / 2},
             .direction = {0, 1, 0},
             .across = {1, 0, 0},
             .length = w.depth - 2 * w.side,
             .holes = {}});
  for (const auto& [row, y, inward] :
       {std::tuple{"front", w.side, 1.0}, std::tuple{"back", w.depth - w.side, -1.0}}) {
    end_rail(w, level, {w.lines[i], y, 0},
             {.name = name + "." + row,
              .rail = name,
              .post = w.post_name(row, i),
              .along = {0, inward, 0},
              .face = {i + 1 == w.lines.size() ? 1.0 : -1.0, 0, 0},
              .leg = {},
              .corner = {},
              .bolts_apart = true,
              .plate_apart = i == 0 || i + 1 == w.lines.size()});
  }
}

void add_rails(RackWork& w, std::size_t level) {
  const double z = w.levels[level] + w.side / 2;
  for (std::size_t bay = 0; bay < w.bays(); ++bay) {
    for (const auto& [row, y, face] :
         {std::tuple{"front", w.side / 2, -1.0}, std::tuple{"back", w.depth - w.side / 2, 1.0}}) {
      const std::string name =
          "rail." + RackWork::level_name(level) + "." + RackWork::bay_name(bay) + "." + row;
      put(w, Bar{.name = name,
                 .title = "Rail",
                 .profile = &w.profile,
                 .from = {w.bay_left(bay), y, z},
                 .direction = {1, 0, 0},
                 .across = {0, 1, 0},
                 .length = w.bay_right(bay) - w.bay_left(bay),
                 .holes = {}});
      const bool first = bay == 0;
      const bool last = bay + 1 == w.bays();
      end_rail(w, level, {w.bay_left(bay), y, 0},
               {.name = name + "." + w.request.left(),
                .rail = name,
                .post = w.post_name(row, bay),
                .along = {1, 0, 0},
                .face = {0, face, 0},
                .leg = {},
                .corner = {},
                .bolts_apart = first,
                .plate_apart = first});
      end_rail(w, level, {w.bay_right(bay), y, 0},
               {.name = name + "." + w.request.right(),
                .rail = name,
                .post = w.post_name(row, bay + 1),
                .along = {-1, 0, 0},
                .face = {0, face, 0},
                .leg = {},
                .corner = {},
                .bolts_apart = last,
                .plate_apart = last});
    }
  }
  for (std::size_t i = 0; i < w.lines.size(); ++i) add_side_rail(w, level, i);
}

void add_posts(RackWork& w) {
  for (std::size_t i = 0; i < w.lines.size(); ++i) {
    for (const auto& [row, y] :
         {std::pair{"front", w.side / 2}, std::pair{"back", w.depth - w.side / 2}}) {
      put(w, Bar{.name = w.post_name(row, i),
                 .title = "Post",
                 .profile = &w.profile,
                 .from = {w.lines[i], y, 0},
                 .direction = {0, 0, 1},
                 .across = {1, 0, 0},
                 .length = w.request.size.z,
                 .holes = {}});
    }
  }
}

/// Places y along side rail `i` where a foot's bolt stands in the middle of a joist: the first
/// and the last.
std::vector<double> joist_crossings(const RackWork& w, std::size_t i, double side,
                                    const Bracket& foot) {
  std::vector<double> all;
  const double x = w.lines[i] + side * (w.side / 2 + foot.hole_from_corner);
  for (const Joist& joist : w.request.vehicle.joists) {
    // The rail's line in van axes, moved to the bolt; where it meets the joist's middle.
    const Vec3 from = w.shop.to_van(Vec3{x, 0, 0});
    const Vec3 to = w.shop.to_van(Vec3{x, w.depth, 0});
    const double a = joist.across ? from.x : from.y;
    const double b = joist.across ? to.x : to.y;
    if (std::abs(b - a) < kSame) continue;  // runs along the joist
    const double y = (joist.at - a) / (b - a) * w.depth;
    const double other = joist.across ? from.y : from.x;
    if (other < joist.from || other > joist.to) continue;
    const double margin = w.side + foot.width / 2 + kBracketAir;  // clear of the posts
    if (y >= margin && y <= w.depth - margin) all.push_back(y);
  }
  std::ranges::sort(all);
  if (all.size() > 2) all = {all.front(), all.back()};
  return all;
}

}  // namespace

bool RackWork::brackets_above(std::size_t level) const {
  return levels[level] < bracket.leg + kContact;
}

bool RackWork::has_brackets(std::size_t line) const {
  return std::ranges::any_of(ends, [&](const RailEnd& end) {
    return (end.post == post_name("front", line) || end.post == post_name("back", line)) &&
           joints.bracketed(end);
  });
}

std::string RackWork::line(std::size_t index) const {
  return index == 0                  ? request.left()
         : index + 1 == lines.size() ? request.right()
                                     : std::to_string(index);
}

void make_rack_frame(RackWork& w) {
  add_posts(w);
  for (std::size_t level = 0; level < w.levels.size(); ++level) add_rails(w, level);
  w.joints.drill(w.bench, w.ends);
  make_all(w.shop, w.bench);
  w.joints.add_brackets(w.ends);
}

void add_rack_feet(RackWork& w) {
  if (!w.request.fields.has("foot")) return;
  const double above = w.shop.to_van(Vec3{0, 0, w.levels[0]}).z;
  if (std::abs(above) > kContact) {
    Finding finding = input_error("rack.feet_in_air", w.request.fields.place("foot"));
    finding.severity = Severity::warning;
    finding.subjects = {w.request.name};
    w.shop.find(std::move(finding.with("measured", above, Unit::mm)));
    return;
  }
  if (!w.request.fields.has("floor_bolt")) {
    Finding finding = input_error("rack.no_floor_bolt", w.request.fields.place("foot"));
    finding.subjects = {w.request.name};
    w.shop.find(std::move(finding));
    return;
  }
  const Bracket& foot =
      bought(w.request, w.request.catalogue.brackets, w.request.fields.text("foot"));
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("floor_bolt"));
  int made = 0;
  for (std::size_t i = 0; i < w.lines.size(); ++i) {
    const double side = i + 1 == w.lines.size() ? -1.0 : 1.0;  // towards the middle of the rack
    int count = 0;
    for (const double y : joist_crossings(w, i, side, foot)) {
      const std::string name = "foot." + w.line(i) + "_" + std::to_string(++count);
      const Vec3 corner{w.lines[i] + side * w.side / 2, y, w.levels[0]};
      w.shop.add(CornerJoint{.name = name,
                             .bracket = &foot,
                             .corner = corner,
                             .leg_a = {0, 0, 1},
                             .leg_b = {side, 0, 0},
                             .host_a = w.shop.id("rail.level_1.side_" + w.line(i)),
                             .host_b = "vehicle/floor",
                             .bolt_b = &bolt});
      const Vec3 at = w.shop.to_van(corner + Vec3{side * foot.hole_from_corner, 0, 0});
      w.shop.made().floor_bolts.push_back(
          {.id = w.shop.id(name + ".bolt_b"),
           .at = {at.x, at.y},
           .diameter = bolt.diameter,
           .over_joist = over_joist(w.request.vehicle, {at.x, at.y}, bolt.diameter)});
      ++made;
    }
  }
  if (made < 4) {
    Finding finding;
    finding.code = "rack.few_feet";
    finding.severity = Severity::warning;
    finding.subjects = {w.request.name};
    finding.with("measured", made, Unit::count).with("required", 4, Unit::count);
    w.shop.find(std::move(finding));
  }
}

}  // namespace ribbay::detail

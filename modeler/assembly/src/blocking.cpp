#include "blocking.hpp"

#include "base/tolerance.hpp"
#include "clearance/sweep.hpp"
#include "obstacles.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <limits>

namespace ribbay::detail {

namespace {

/// A move that is as good as along an axis.
constexpr double kAlong = 1.0 - 1e-9;

/// What is nearer than this stands beside a thing that slides past it, mm.
constexpr double kBeside = 1.0;
/// What has no more air below it rests, mm.
constexpr double kRests = 2.0;
/// A slide of this much needs no better one, mm.
constexpr double kShort = 50.0;
/// Past what held it a thing is free by this much, mm.
constexpr double kPast = 0.1;
/// A way is not worth another for less than this, mm.
constexpr double kMuchShorter = 1.0;

void add_way(std::vector<Vec3>& ways, Vec3 way) {
  if (std::ranges::none_of(ways, [&](Vec3 other) { return dot(way, other) > kAlong; }))
    ways.push_back(way);
}

std::vector<Vec3> ways_of(const Frame& frame) {
  // Lifted out first: so it is laid in from above. Forwards and backwards before down.
  std::vector<Vec3> ways{{0, 0, 1}, {-1, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, -1}};
  for (const Vec3 axis : {frame.x, frame.y, frame.z}) {
    for (const Vec3 way : {axis, -axis}) add_way(ways, way);
  }
  return ways;
}

/// How far `own` goes along `way` until it is clear of `around`, mm.
double out_of(const Box& around, const Box& own, Vec3 way) {
  double least = std::numeric_limits<double>::infinity();
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(way[axis]) < 1e-9) continue;
    const double room =
        way[axis] > 0.0 ? around.hi[axis] - own.lo[axis] : own.hi[axis] - around.lo[axis];
    least = std::min(least, room / std::abs(way[axis]));
  }
  return least + 1.0;
}

/// True when a bore of the part runs along the axis of the bolt: its head lies sunk there, or the
/// tool goes through. A fitting is made so that its own screws are reached, and its boxes cover
/// that.
bool lets_through(const Part& part, const Part& bolt) {
  if (part.kind == PartKind::hardware)
    return std::ranges::find(bolt.hosts, part.id) != bolt.hosts.end();
  return std::ranges::any_of(part.shape->prisms, [&](const PlacedPrism& placed) {
    return std::ranges::any_of(placed.prism.bores, [&](const Bore& bore) {
      const Vec3 at = part.frame.point(placed.frame.point(bore.at));
      const Vec3 way = part.frame.direction(placed.frame.direction(bore.direction));
      const Vec3 off = at - bolt.frame.origin;
      return std::abs(dot(way, bolt.frame.z)) > kAlong &&
             length(off - bolt.frame.z * dot(off, bolt.frame.z)) < 0.1;
    });
  });
}

}  // namespace

Blocking::Blocking(const Stage& stage)
    : stage_(stage), others_(stage.in_place ? 1 : 0), stands_(stage.units.size(), true) {
  const Layout& layout = stage.bench.layout;
  for (const Group& unit : stage.units) {
    Mover mover{ways_of(layout.parts[unit.parts.front()].frame), {}};
    movers_.push_back(std::move(mover));
  }
  for (const Sliding& each : stage.slidings) {
    add_way(movers_[each.mover].ways, each.out);
    add_way(movers_[each.carrier].ways, -each.out);
  }
  for (Mover& mover : movers_) mover.cursors.resize(mover.ways.size());
  tools_.resize(stage.items.size());
  known_.resize(stage.units.size());
}

double Blocking::travel(std::size_t unit, Vec3 way) const {
  return out_of(stage_.box, stage_.units[unit].box, way);
}

bool Blocking::there(const Item& item) const {
  return std::ranges::all_of(item.units, [&](std::size_t unit) { return stands_[unit]; });
}

bool Blocking::present(std::size_t obstacle) const {
  const std::size_t units = stage_.units.size();
  if (obstacle < units) return stands_[obstacle];
  const std::size_t item = obstacle - units;
  return item >= stage_.items.size() || there(stage_.items[item]);
}

bool Blocking::of_unit(std::size_t unit, std::size_t obstacle) const {
  const std::size_t units = stage_.units.size();
  if (obstacle < units) return obstacle == unit;
  return obstacle - units < stage_.items.size() &&
         std::ranges::binary_search(stage_.items[obstacle - units].units, unit);
}

template <class Test>
bool Blocking::any_solid(std::size_t obstacle, Test test) const {
  const Workbench& bench = stage_.bench;
  const auto part = [&](std::size_t i) { return test(i, bench.solids[i]); };
  if (obstacle < stage_.units.size()) {
    const Group& unit = stage_.units[obstacle];
    return std::ranges::any_of(unit.parts, part) || std::ranges::any_of(unit.riders, part);
  }
  const std::size_t item = obstacle - stage_.units.size();
  if (item < stage_.items.size()) return part(stage_.items[item].part);
  return std::ranges::any_of(stage_.others, part) ||
         std::ranges::any_of(bench.van,
                             [&](const Solid& body) { return test(bench.solids.size(), body); });
}

std::vector<std::size_t> Blocking::solids_of(std::size_t unit) const {
  std::vector<std::size_t> all = stage_.units[unit].parts;
  all.insert(all.end(), stage_.units[unit].riders.begin(), stage_.units[unit].riders.end());
  return all;
}

bool Blocking::comes_out(std::size_t unit, Vec3 way) const {
  Box around = stage_.box;
  around.add(stage_.hosts);
  return goes(unit, {}, way, out_of(around, stage_.units[unit].box, way));
}

bool Blocking::stops(std::size_t unit, Vec3 way, double far, std::size_t obstacle) const {
  if (of_unit(unit, obstacle)) return false;
  const Workbench& bench = stage_.bench;
  const std::vector<std::size_t> moving = solids_of(unit);
  return any_solid(obstacle, [&](std::size_t, const Solid& other) {
    return std::ranges::any_of(
        moving, [&](std::size_t part) { return runs_into(bench.solids[part], other, way, far); });
  });
}

std::optional<std::size_t> Blocking::guide_across(std::size_t unit, Vec3 way) const {
  const Layout& layout = stage_.bench.layout;
  if (!layout.catalogue) return std::nullopt;
  for (const std::size_t item : stage_.items_of[unit]) {
    const Part& part = layout.parts[stage_.items[item].part];
    if (there(stage_.items[item]) && layout.catalogue->dowels.contains(part.stock.key) &&
        std::abs(dot(way, part.frame.z)) < kAlong)
      return item;
  }
  std::optional<std::size_t> across;
  each_sliding(unit, [&](const Sliding& sliding, Vec3 out) {
    if (dot(way, out) < kAlong) across = sliding.item;
  });
  return across;
}

template <class Each>
void Blocking::each_sliding(std::size_t unit, Each each) const {
  for (const Sliding& sliding : stage_.slidings) {
    if (!there(stage_.items[sliding.item])) continue;
    if (sliding.mover == unit) each(sliding, sliding.out);
    if (sliding.carrier == unit) each(sliding, -sliding.out);
  }
}

bool Blocking::on_slides(std::size_t unit) const {
  bool on = false;
  each_sliding(unit, [&](const Sliding& sliding, Vec3) { on = on || sliding.mover == unit; });
  return on;
}

template <class Hides>
bool Blocking::passes(std::size_t& cursor, Hides hides) const {
  while (cursor < obstacles() && !(present(cursor) && hides(cursor))) ++cursor;
  return cursor == obstacles();
}

bool Blocking::free(std::size_t unit, std::size_t way) {
  if (guide_across(unit, movers_[unit].ways[way])) return false;
  std::size_t& cursor = movers_[unit].cursors[way];
  const Vec3 out = movers_[unit].ways[way];
  const double far = travel(unit, out);
  return passes(cursor, [&](std::size_t obstacle) { return stops(unit, out, far, obstacle); });
}

std::optional<std::size_t> Blocking::free_way(std::size_t unit) {
  for (std::size_t way = 0; way < movers_[unit].ways.size(); ++way) {
    if (free(unit, way)) return way;
  }
  return std::nullopt;
}

std::vector<Blocking::Pair> Blocking::pairs_near(std::size_t unit, Vec3 way, double travel,
                                                 double gap) const {
  std::vector<Pair> pairs;
  const Workbench& bench = stage_.bench;
  const auto carried = [&](Box box) {
    box.add(Box{box.lo + way * travel, box.hi + way * travel});
    return box;
  };
  for (const std::size_t part : solids_of(unit)) {
    const Solid& own = bench.solids[part];
    const Box whole = carried(own.box);
    for (std::size_t obstacle = 0; obstacle < obstacles(); ++obstacle) {
      if (!present(obstacle) || of_unit(unit, obstacle)) continue;
      any_solid(obstacle, [&](std::size_t, const Solid& other) {
        if (!near(whole, other.box, gap)) return false;
        for (const ConvexPiece& p : own.pieces) {
          const Box room = carried(p.box);
          if (!near(room, other.box, gap)) continue;
          for (const ConvexPiece& q : other.pieces) {
            if (near(room, q.box, gap)) pairs.push_back({&p, &q});
          }
        }
        return false;
      });
    }
  }
  return pairs;
}

/// How far the first must go along a way until it is past the second.
double Blocking::past(const Pair& pair, Vec3 way) {
  double reach = -std::numeric_limits<double>::infinity();
  double back = std::numeric_limits<double>::infinity();
  for (const Vec3 corner : pair.other->vertices) reach = std::max(reach, dot(corner, way));
  for (const Vec3 corner : pair.own->vertices) back = std::min(back, dot(corner, way));
  return std::max(0.0, reach - back);
}

double Blocking::let_go(std::size_t unit, Vec3 stopped, Vec3 way) const {
  const double far = travel(unit, stopped);
  struct Candidate {
    double past;
    Pair pair;
  };
  std::vector<Candidate> candidates;
  for (const Pair& pair : pairs_near(unit, stopped, far, -kContact))
    candidates.push_back({past(pair, way), pair});
  std::ranges::stable_sort(candidates, std::greater{}, &Candidate::past);
  // The first of these that really stops it decides.
  for (const Candidate& each : candidates) {
    if (each.past <= 0.0) break;
    const auto& [own, other] = each.pair;
    const auto met = contact_stretch(*own, *other, stopped, far, slack(*own, *other));
    if (met && met->from > 0.0) return each.past;
  }
  return 0.0;
}

bool Blocking::goes(std::size_t unit, Vec3 shift, Vec3 way, double far) const {
  std::vector<Solid> moving;
  for (const std::size_t part : solids_of(unit)) {
    Solid solid = stage_.bench.solids[part];
    Frame there;
    there.origin = shift;
    for (ConvexPiece& piece : solid.pieces) piece = placed(piece, there);
    solid.box = {solid.box.lo + shift, solid.box.hi + shift};
    moving.push_back(std::move(solid));
  }
  const auto stopped = [&](std::size_t, const Solid& other) {
    return std::ranges::any_of(moving,
                               [&](const Solid& own) { return runs_into(own, other, way, far); });
  };
  for (std::size_t obstacle = 0; obstacle < obstacles(); ++obstacle) {
    if (present(obstacle) && !of_unit(unit, obstacle) && any_solid(obstacle, stopped)) return false;
  }
  return std::ranges::none_of(stage_.standing, [&](std::size_t other) {
    return stopped(other, stage_.bench.solids[other]);
  });
}

std::optional<Blocking::Bend> Blocking::bend(std::size_t unit) {
  std::optional<Bend> best;
  for (const Vec3 way : movers_[unit].ways) {
    if (guide_across(unit, way) || !goes(unit, {}, way, kPast)) continue;
    for (const Vec3 then : movers_[unit].ways) {
      if (std::abs(dot(way, then)) > 0.5 || guide_across(unit, then)) continue;
      const double slide = let_go(unit, then, way) + kPast;
      if (slide > kShort || (best && slide >= best->slide)) continue;
      if (goes(unit, {}, way, slide) && goes(unit, way * slide, then, travel(unit, then)))
        best = Bend{way, slide, then};
    }
  }
  return best;
}

Blocking::Way Blocking::shortest_way(std::size_t unit) {
  known_[unit] = measure_ways(unit);
  each_sliding(unit, [&](const Sliding& sliding, Vec3) {
    known_[unit]->run = std::max(known_[unit]->run, sliding.overlap);
  });
  return *known_[unit];
}

Blocking::Way Blocking::known_way(std::size_t unit) {
  return known_[unit] ? *known_[unit] : shortest_way(unit);
}

Blocking::Way Blocking::measure_ways(std::size_t unit) {
  const std::vector<Vec3>& all = movers_[unit].ways;
  std::vector<std::size_t> open;
  std::vector<std::size_t> shut;
  for (std::size_t way = 0; way < all.size(); ++way) {
    if (free(unit, way)) {
      open.push_back(way);
    } else if (!guide_across(unit, all[way])) {
      shut.push_back(way);
    }
  }
  // What is taken out by a way of its own comes in by it.
  const auto own = std::ranges::find_if(
      open, [&](std::size_t way) { return dot(all[way], stage_.units[unit].removed) > kAlong; });
  bool clear = true;
  if (own != open.end()) {
    open = {*own};
  } else if (stage_.in_place) {
    // What stands in another module comes out of that, and past others, where it can.
    std::vector<std::size_t> outside;
    std::ranges::copy_if(open, std::back_inserter(outside),
                         [&](std::size_t way) { return comes_out(unit, all[way]); });
    clear = !outside.empty();
    if (clear) open = std::move(outside);
  }
  const std::vector<Pair> beside = pairs_near(unit, {}, 0.0, kBeside);
  Way best{.index = open.front(), .slide = std::numeric_limits<double>::infinity(), .past = clear};
  for (const std::size_t way : open) {
    double slide = 0.0;
    for (const Pair& pair : beside) slide = std::max(slide, past(pair, all[way]));
    if (slide < best.slide - kMuchShorter) {
      best.index = way;
      best.slide = slide;
    }
  }
  if (best.slide <= kMuchShorter) best.slide = 0.0;
  if (best.slide <= kShort) return best;
  // It may be let go earlier: when it is past what stops it on another way.
  for (const std::size_t stopped : shut) {
    for (const std::size_t way : open) {
      if (std::abs(dot(all[way], all[stopped])) > 0.5) continue;
      const double slide = let_go(unit, all[stopped], all[way]);
      if (slide < best.slide - kMuchShorter) {
        best.index = way;
        best.slide = slide;
      }
    }
  }
  return best;
}

bool Blocking::hides(std::size_t item, const ToolRoom& room, std::size_t obstacle) const {
  const Workbench& bench = stage_.bench;
  const Layout& layout = bench.layout;
  const Part& bolt = layout.parts[stage_.items[item].part];
  return any_solid(obstacle, [&](std::size_t part, const Solid& solid) {
    if (part == stage_.items[item].part || !overlap_in(room, solid)) return false;
    return part >= layout.parts.size() || !lets_through(layout.parts[part], bolt);
  });
}

/// What opens is opened for it.
bool Blocking::keeps_hand_out(std::size_t item, const HandWay& way, const ToolRoom& room,
                              std::size_t obstacle) const {
  const Workbench& bench = stage_.bench;
  const std::vector<Part>& parts = bench.layout.parts;
  return any_solid(obstacle, [&](std::size_t part, const Solid& solid) {
    if (part == stage_.items[item].part || !overlap_in(room, solid)) return false;
    if (part >= parts.size()) return true;
    if (bench.opens[part]) return false;
    if (!lets_through(parts[part], parts[stage_.items[item].part])) return true;
    // The tool goes through the bore, the hand does not.
    return parts[part].kind != PartKind::hardware &&
           (!way.axis || overlap_in({room.back()}, solid));
  });
}

bool Blocking::hand_comes(std::size_t item) {
  const Part& bolt = stage_.bench.layout.parts[stage_.items[item].part];
  std::optional<Tools::Hands>& hands = tools_[item].hands;
  if (!hands) hands = Tools::Hands{.ways = hand_ways(bolt, stage_.box)};
  for (std::size_t i = 0; i < hands->ways.size(); ++i) {
    if (hands->rooms.size() == i) {
      hands->rooms.push_back(hand_room(hands->ways[i]));
      hands->cursors.push_back(0);
    }
    const bool comes = passes(hands->cursors[i], [&](std::size_t obstacle) {
      return keeps_hand_out(item, hands->ways[i], hands->rooms[i], obstacle);
    });
    if (comes) return true;
  }
  return false;
}

Reach Blocking::free_tool(std::size_t item) {
  if (!hand_comes(item)) return Reach::none;
  const Part& bolt = stage_.bench.layout.parts[stage_.items[item].part];
  std::vector<Tools::Way>& ways = tools_[item].ways;
  for (const Reach reach : {Reach::straight, Reach::arm, Reach::leaning}) {
    const auto order = static_cast<std::size_t>(reach);
    if (ways.size() == order) {
      ways.push_back({reach, tool_rooms(bolt, *stage_.items[item].bolt, reach), {}});
      ways.back().cursors.resize(ways.back().rooms.size());
    }
    Tools::Way& way = ways[order];
    for (std::size_t room = 0; room < way.rooms.size(); ++room) {
      const bool free = passes(way.cursors[room], [&](std::size_t obstacle) {
        return hides(item, way.rooms[room], obstacle);
      });
      if (free) return reach;
    }
  }
  return Reach::none;
}

bool Blocking::borne_by(std::size_t unit, std::size_t obstacle) const {
  if (!present(obstacle) || of_unit(unit, obstacle)) return false;
  const std::vector<std::size_t> bodies = solids_of(unit);
  return any_solid(obstacle, [&](std::size_t, const Solid& other) {
    return std::ranges::any_of(bodies, [&](std::size_t part) {
      return runs_into(stage_.bench.solids[part], other, {0, 0, -1}, kRests);
    });
  });
}

bool Blocking::rests(std::size_t unit) const {
  if (!stage_.in_place && stage_.units[unit].box.lo.z < stage_.box.lo.z + kRests) return true;
  for (std::size_t obstacle = 0; obstacle < obstacles(); ++obstacle) {
    if (borne_by(unit, obstacle)) return true;
  }
  return false;
}

bool Blocking::rests_on_others(std::size_t unit) const {
  return stage_.in_place && borne_by(unit, obstacles() - 1);
}

void Blocking::take_off(std::size_t unit) {
  stands_[unit] = false;
  for (std::size_t other = 0; other < known_.size(); ++other) {
    if (near(stage_.units[other].box, stage_.units[unit].box, kBeside)) known_[other].reset();
  }
}

std::string Blocking::name(std::size_t obstacle) const {
  const Layout& layout = stage_.bench.layout;
  if (obstacle < stage_.units.size()) return layout.parts[stage_.units[obstacle].parts.front()].id;
  const std::size_t item = obstacle - stage_.units.size();
  if (item < stage_.items.size()) return layout.parts[stage_.items[item].part].id;
  return "what stands there already";
}

std::vector<std::string> Blocking::stoppers(std::size_t unit) const {
  std::vector<std::string> names;
  const Mover& mover = movers_[unit];
  for (std::size_t way = 0; way < mover.ways.size(); ++way) {
    const auto guide = guide_across(unit, mover.ways[way]);
    const std::size_t stops = guide ? stage_.units.size() + *guide : mover.cursors[way];
    if (stops == obstacles()) continue;
    std::string stopper = name(stops);
    if (std::ranges::find(names, stopper) == names.end()) names.push_back(std::move(stopper));
  }
  return names;
}

std::string Blocking::stopper_of_tool(std::size_t item) const {
  const Tools& tools = tools_[item];
  const std::vector<std::size_t>& cursors =
      tools.ways.empty() ? tools.hands->cursors : tools.ways.front().cursors;
  return cursors.empty() || cursors.front() == obstacles() ? std::string() : name(cursors.front());
}

}  // namespace ribbay::detail

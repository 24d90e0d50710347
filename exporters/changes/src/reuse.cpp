#include "reuse.hpp"

#include "base/tolerance.hpp"
#include "features.hpp"
#include "plan_area.hpp"
#include "turns.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// More places than this along one axis are not tried; nor more than kMostTries all together.
constexpr std::size_t kMostPlaces = 40;
constexpr int kMostTries = 400;

bool is_member(const PartRecord& part) {
  return part.kind == PartKind::member;
}

bool grain_along_x(const PartRecord& part) {
  return near(bounds_of(part.outline.outer).hi.x, part.length);
}

/// The turns after which the old piece may serve.
std::vector<int> turns_of(const PartRecord& old, const PartRecord& fresh,
                          const SectionRecord* section) {
  if (!old.bends.empty() || !fresh.bends.empty() || old.kind == PartKind::folded) return {0};
  if (is_member(old)) return section != nullptr ? section->turns : std::vector<int>{0};
  std::vector<int> turns;
  const bool crosswise = grain_along_x(old) != grain_along_x(fresh);
  for (int number = 0; number < (old.kind == PartKind::plank ? 4 : kTurns); ++number) {
    if ((old.grain || fresh.grain) && (number % 2 == 1) != crosswise) continue;
    turns.push_back(number);
  }
  return turns;
}

/// Space that something of the old piece takes.
std::vector<Box> taken(const PartRecord& old) {
  std::vector<Box> boxes;
  for (const Bore& bore : old.bores) boxes.push_back(bounds_of(bore));
  for (const Cut& cut : old.cuts) {
    Box box = bounds_of(cut.outline);
    box.lo.z = cut.from;
    box.hi.z = cut.to;
    boxes.push_back(box);
  }
  for (const Loop& hole : old.outline.holes) {
    Box box = bounds_of(hole);
    box.hi.z = old.height;
    boxes.push_back(box);
  }
  return boxes;
}

/// Where along an axis the new piece, `size` long, may begin on the old one, `room` longer.
std::vector<double> places(const PartRecord& old, const PartRecord& fresh, int axis, double size,
                           double room) {
  std::vector<double> found{0.0, room};
  for (const Box& box : taken(old)) {
    found.push_back(box.hi[axis]);
    found.push_back(box.lo[axis] - size);
  }
  for (const Bore& before : old.bores) {
    for (const Bore& after : fresh.bores) {
      if (near(before.diameter, after.diameter) && before.thread == after.thread)
        found.push_back(before.at[axis] - after.at[axis]);
    }
  }
  std::vector<double> kept;
  for (const double place : found) {
    if (place < -kContact || place > room + kContact) continue;
    const bool known = std::ranges::any_of(kept, [&](double other) { return near(place, other); });
    if (!known && kept.size() < kMostPlaces) kept.push_back(std::clamp(place, 0.0, room));
  }
  return kept;
}

/// For each old bore, whether it is the new piece's own.
std::vector<bool> own_bores(const PartRecord& old, const PartRecord& fresh) {
  const auto partners = pairs(old.bores, fresh.bores, begun);
  std::vector<bool> own;
  for (const int partner : partners) own.push_back(partner >= 0);
  return own;
}

/// A side of the outline, with its corners, whose middle that is.
Box side_at(const PartRecord& part, Vec2 middle) {
  const Loop& loop = part.outline.outer;
  for (std::size_t c = 0; c < loop.size(); ++c) {
    const Vec2 a = loop[c].at;
    const Vec2 b = loop[(c + 1) % loop.size()].at;
    if (!near((a + b) * 0.5, middle)) continue;
    Box box;
    box.add(Vec3{a.x, a.y, 0});
    box.add(Vec3{b.x, b.y, 0});
    return box;
  }
  return {};
}

bool finish_serves(const FinishRecord& finish, const PartRecord& old, const PartRecord& fresh,
                   bool sawn) {
  const bool own = std::ranges::any_of(
      fresh.finishes, [&](const FinishRecord& other) { return same(finish, other); });
  if (own && !sawn) return true;
  if (finish.turn_over > 0.0) return false;
  const auto has_side = [&](bool FinishRecord::*side) {
    return std::ranges::any_of(fresh.finishes, [&](const FinishRecord& other) {
      return other.finish == finish.finish && other.*side &&
             near(other.thickness, finish.thickness);
    });
  };
  if (finish.face && !has_side(&FinishRecord::face)) return false;
  if (finish.back && !has_side(&FinishRecord::back)) return false;
  const Box piece = bounds_of(fresh.outline.outer);
  return std::ranges::all_of(finish.edges, [&](Vec2 middle) {
    const Box side = side_at(old, middle);
    return sawn && !side.empty() && !near(side, piece, kContact);
  });
}

bool finishes_serve(const PartRecord& old, const PartRecord& fresh, bool sawn) {
  return std::ranges::all_of(old.finishes, [&](const FinishRecord& finish) {
    return finish_serves(finish, old, fresh, sawn);
  });
}

/// Whether a point lies inside an outline, further than `margin` from all its sides. Arcs count as
/// the corners that they round; precondition: `margin` is at least the largest radius.
bool deep_inside(const Loop& loop, Vec2 point, double margin) {
  bool inside = false;
  for (std::size_t c = 0; c < loop.size(); ++c) {
    const Vec2 a = loop[c].at - point;
    const Vec2 b = loop[(c + 1) % loop.size()].at - point;
    if ((a.y > 0.0) != (b.y > 0.0) && (cross(a, b) > 0.0) == (b.y > a.y)) inside = !inside;
    const Vec2 along = b - a;
    const double part = std::clamp(-dot(a, along) / std::max(dot(along, along), kSame), 0.0, 1.0);
    if (length(a + along * part) <= margin) return false;
  }
  return inside;
}

double largest_radius(const Loop& loop) {
  double radius = 0.0;
  for (const Corner& corner : loop) radius = std::max(radius, corner.radius);
  return radius;
}

/// Whether the new piece has material there for certain, but for its own cuts and holes.
bool surely_needed(const PartRecord& fresh, Vec3 at) {
  if (at.z < kContact || at.z > fresh.height - kContact) return false;
  const Loop& outer = fresh.outline.outer;
  return is_member(fresh) || deep_inside(outer, {at.x, at.y}, largest_radius(outer) + kContact);
}

/// Spares the exact comparison where a corner of the old outline lies deep inside the new one.
bool corner_in_the_way(const PartRecord& old, const PartRecord& fresh) {
  if (is_member(fresh)) return false;
  const double margin =
      largest_radius(fresh.outline.outer) + largest_radius(old.outline.outer) + kContact;
  return std::ranges::any_of(old.outline.outer, [&](const Corner& corner) {
    return deep_inside(fresh.outline.outer, corner.at, margin);
  });
}

/// Spares the exact comparison where the middle of an old hole lies in plain material.
bool hole_in_the_way(const PartRecord& old, const PartRecord& fresh, const std::vector<bool>& own) {
  const std::vector<Box> away = taken(fresh);
  for (std::size_t b = 0; b < old.bores.size(); ++b) {
    const Vec3 middle = bounds_of(old.bores[b]).centre();
    if (own[b] || !surely_needed(fresh, middle)) continue;
    if (std::ranges::none_of(away, [&](const Box& box) {
          return near(box, {middle, middle}, 0.0);
        }))
      return true;
  }
  return false;
}

/// `old` lies as it is to be used, and so does `fresh`: does it serve?
std::optional<Reuse> serves(PartRecord old, const PartRecord& fresh) {
  Reuse result;
  result.sawn = is_member(fresh) ? !near(old.height, fresh.height)
                                 : !same(old.outline.outer, fresh.outline.outer);
  const bool bent = !old.bends.empty() || !fresh.bends.empty() || old.kind == PartKind::folded;
  if (bent && (result.sawn || !same_all(old.bends, fresh.bends))) return std::nullopt;
  if (!finishes_serve(old, fresh, result.sawn)) return std::nullopt;
  const std::vector<bool> own = own_bores(old, fresh);
  if (hole_in_the_way(old, fresh, own) || corner_in_the_way(old, fresh)) return std::nullopt;
  if (!lies_inside(fresh, old, own)) return std::nullopt;
  result.old = std::move(old);
  return result;
}

/// Tries places one after another and keeps the one that leaves the least to be made.
class Search {
 public:
  explicit Search(const PartRecord& fresh) : fresh_(fresh) {}

  void try_turn(const PartRecord& old, int number) {
    Vec3 size{0, 0, fresh_.height};
    Vec3 room{0, 0, old.height - fresh_.height};
    const bool flat = !is_member(fresh_);
    if (flat) {
      size = bounds_of(fresh_.outline.outer).size();
      room = bounds_of(old.outline.outer).size() - size;
    }
    if (std::min({room.x, room.y, room.z}) < -kContact) return;
    const std::vector<double> nowhere{0.0};
    const auto along = [&](int axis) {
      return places(old, fresh_, axis, size[axis], std::max(room[axis], 0.0));
    };
    const auto xs = flat ? along(0) : nowhere;
    const auto ys = flat ? along(1) : nowhere;
    const auto zs = flat ? nowhere : along(2);
    for (const double x : xs) {
      for (const double y : ys) {
        for (const double z : zs) try_place(old, {x, y, z}, number);
      }
    }
  }

  std::optional<Reuse> best() && { return std::move(best_); }

 private:
  void try_place(PartRecord old, Vec3 at, int number) {
    if (tries_ >= kMostTries) return;
    move(old, -at);
    const int made = features_made(old);
    if (made <= made_) return;
    ++tries_;
    auto found = serves(std::move(old), fresh_);
    if (!found) return;
    found->at = at;
    found->turned = number != 0;
    best_ = std::move(found);
    made_ = made;
  }

  /// How many holes and cuts of the new piece are there already.
  int features_made(const PartRecord& old) const {
    const auto bores = own_bores(old, fresh_);
    const auto cuts =
        pairs(old.cuts, fresh_.cuts, [](const Cut& a, const Cut& b) { return detail::same(a, b); });
    return static_cast<int>(std::ranges::count(bores, true) +
                            std::ranges::count_if(cuts, [](int partner) { return partner >= 0; }));
  }

  const PartRecord& fresh_;
  std::optional<Reuse> best_;
  int made_ = -1;  ///< features of the best one
  int tries_ = 0;
};

}  // namespace

std::optional<Reuse> reuse(const PartRecord& old, const PartRecord& fresh,
                           const SectionRecord* section) {
  if (old.kind != fresh.kind || old.stock != fresh.stock || old.material != fresh.material)
    return std::nullopt;
  if (!near(old.thickness, fresh.thickness) || !old.form.empty() || !fresh.form.empty())
    return std::nullopt;
  if (!is_member(old) && !near(old.height, fresh.height)) return std::nullopt;
  Search search(fresh);
  for (const int number : turns_of(old, fresh, section))
    search.try_turn(turned(old, number), number);
  return std::move(search).best();
}

}  // namespace ribbay::detail

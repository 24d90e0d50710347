#include "base/tolerance.hpp"
#include "judges.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace ribbay::detail {

namespace {

bool means(const std::string& name, const std::string& id, const Chains& chains) {
  if (name == id) return true;
  if (of_van(id)) return name == "vehicle" && !is_floor(id);
  return chains.part(chains.index(id)).module == name;
}

/// Bounds of a zone in the van.
Box zone_box(const Zone& zone) {
  const Box local = bounds(zone.shape);
  Box box;
  for (const double x : {local.lo.x, local.hi.x}) {
    for (const double y : {local.lo.y, local.hi.y}) {
      for (const double z : {local.lo.z, local.hi.z}) box.add(zone.frame.point({x, y, z}));
    }
  }
  return box;
}

/// What the layout asks for between two bodies.
struct Asked {
  GapKind kind = GapKind::modules;
  std::string named;
  double required = 0.0;
};

class GapJudge {
 public:
  GapJudge(const Layout& layout, const NearResult& near, const Chains& chains, const Stacks& stacks)
      : layout_{layout}, near_{near}, chains_{chains}, stacks_{stacks} {
    for (const Zone& zone : layout.zones) {
      if (zone.kind == ZoneKind::air) air_.emplace_back(&zone, zone_box(zone));
    }
  }

  std::vector<JudgedGap> run() {
    for (const NearPair& pair : near_.pairs) look_at(pair);
    std::set<std::pair<std::string, std::string>> told;  // two that move have one gap
    for (const NearMotion& motion : near_.motions) {
      const NearPair& pair = motion.pair;
      if (beyond(pair.distance, kNear) || of_van(pair.b)) continue;
      if (told.insert(std::minmax(pair.a, pair.b)).second)
        keep(pair, {GapKind::motion, layout_.motions[motion.motion].id, 0.0});
    }
    std::vector<JudgedGap> gaps;
    for (const auto& [key, place] : narrowest_) gaps.push_back(judged(*place.pair, place.asked));
    return gaps;
  }

 private:
  /// Kind, name of the gap, what is on either side, axis.
  using Key = std::tuple<GapKind, std::string, std::string, std::string, int>;
  struct Kept {
    const NearPair* pair;
    Asked asked;
    double spare() const { return pair->distance - asked.required; }
  };

  void look_at(const NearPair& pair) {
    if (pair.distance <= kContact || is_floor(pair.b)) return;
    bool asked_for = false;
    for (const Gap& gap : layout_.gaps) {
      const bool named = (means(gap.a, pair.a, chains_) && means(gap.b, pair.b, chains_)) ||
                         (means(gap.a, pair.b, chains_) && means(gap.b, pair.a, chains_));
      if (!named || beyond(pair.distance, gap.required + kNear)) continue;
      keep(pair, {GapKind::asked, gap.id, gap.required});
      asked_for = true;
    }
    if (asked_for) return;
    if (const double air = air_between(pair); air > 0.0) {
      if (!beyond(pair.distance, air + kNear)) keep(pair, {GapKind::air, "", air});
      return;
    }
    if (beyond(pair.distance, kNear)) return;
    if (of_van(pair.b)) return keep(pair, {GapKind::van, "", 0.0});
    const std::size_t a = chains_.index(pair.a);
    const std::size_t b = chains_.index(pair.b);
    if (chains_.held_together(a, b)) return;
    if (chains_.part(a).module != chains_.part(b).module) {
      keep(pair, {GapKind::modules, "", 0.0});
    } else if (chains_.moves(a) == chains_.moves(b) &&  // else told with the motion
               (chains_.part(a).kind == PartKind::equipment ||
                chains_.part(b).kind == PartKind::equipment)) {
      keep(pair, {GapKind::equipment, "", 0.0});
    }
  }

  /// Air that the equipment on one side of the gap needs across it; 0: none.
  double air_between(const NearPair& pair) const {
    const int axis = main_axis(pair.way);
    double most = 0.0;
    for (const auto& [zone, box] : air_) {
      if (zone->owner != pair.a && zone->owner != pair.b) continue;
      if (may_stand_in(*zone, zone->owner == pair.a ? pair.b : pair.a)) continue;
      const bool high = (along(pair.way, axis) > 0.0) == (zone->owner == pair.a);
      const Box& owner = chains_.box(chains_.index(zone->owner));
      const double air = high ? along(box.hi, axis) - along(owner.hi, axis)
                              : along(owner.lo, axis) - along(box.lo, axis);
      const bool across = along(box.lo, axis) <= along(pair.at, axis) + kSame &&
                          along(pair.at, axis) <= along(box.hi, axis) + kSame;
      if (across && std::abs(air) > kSame) most = std::max(most, air);
    }
    return most;
  }

  bool may_stand_in(const Zone& zone, const std::string& id) const {
    return std::ranges::any_of(zone.allowed, [&](const std::string& name) {
      return means(name, id, chains_);
    });
  }

  std::string side(const std::string& id, GapKind kind) const {
    if (of_van(id)) return id;
    const Part& part = chains_.part(chains_.index(id));
    return kind == GapKind::air || part.kind == PartKind::equipment ? part.id : part.module;
  }

  /// Of all between the same two along the same axis the one with the least to spare.
  void keep(const NearPair& pair, Asked asked) {
    const bool named = !asked.named.empty();
    Key key{asked.kind, asked.named, named ? "" : side(pair.a, asked.kind),
            named ? "" : side(pair.b, asked.kind), named ? 0 : main_axis(pair.way)};
    const Kept kept{&pair, std::move(asked)};
    const auto [at, fresh] = narrowest_.try_emplace(std::move(key), kept);
    if (!fresh && kept.spare() < at->second.spare()) at->second = kept;
  }

  JudgedGap judged(const NearPair& pair, const Asked& asked) const {
    return {asked.kind,     asked.named, pair.a, pair.b, main_axis(pair.way), pair.distance,
            asked.required, stacks_.of(pair), pair.at};
  }

  const Layout& layout_;
  const NearResult& near_;
  const Chains& chains_;
  const Stacks& stacks_;
  std::vector<std::pair<const Zone*, Box>> air_;
  std::map<Key, Kept> narrowest_;
};

}  // namespace

std::vector<NearFurther> further_than_near(const Layout& layout) {
  std::vector<NearFurther> further;
  for (const Gap& gap : layout.gaps) {
    for (const std::string& name : {gap.a, gap.b}) further.push_back({name, gap.required + kNear + kSame});
  }
  for (const Zone& zone : layout.zones) {
    const Part* owner = zone.kind == ZoneKind::air ? layout.find(zone.owner) : nullptr;
    if (owner == nullptr) continue;
    const Box air = zone_box(zone);
    const Box body = bounds(*owner);
    double most = 0.0;
    for (int axis = 0; axis < 3; ++axis) {
      most = std::max({most, along(air.hi, axis) - along(body.hi, axis),
                       along(body.lo, axis) - along(air.lo, axis)});
    }
    further.push_back({zone.owner, most + kNear + kSame});
  }
  return further;
}

std::vector<JudgedGap> judge_gaps(const Layout& layout, const NearResult& near,
                                  const Chains& chains,
                                  const Stacks& stacks) {
  return GapJudge(layout, near, chains, stacks).run();
}

}  // namespace ribbay::detail

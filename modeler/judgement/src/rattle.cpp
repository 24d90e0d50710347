#include "base/tolerance.hpp"
#include "judges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ribbay::detail {

namespace {

/// Insulation is soft, and so is a film wrapped round.
bool is_soft(const Layout& layout, const Part& part) {
  if (std::ranges::any_of(part.coverings, [](const Covering& c) { return c.turn_over > 0.0; }))
    return true;
  if (!layout.catalogue || part.kind != PartKind::panel) return false;
  const auto sheet = layout.catalogue->sheets.find(part.stock.key);
  return sheet != layout.catalogue->sheets.end() && sheet->second.insulation;
}

/// One lies on the other, and its weight keeps it there.
bool rests(const NearPair& pair) {
  return pair.distance <= kContact && std::abs(pair.way.z) > 0.9;
}

/// It can move while what it belongs to stands still.
bool is_loose(const Chains& chains, std::size_t i) {
  return chains.moves(i) || chains.part(i).kind == PartKind::equipment || !chains.in_a_joint(i);
}

bool rattles_on_van(const Layout& layout, const NearPair& pair, const Chains& chains) {
  const std::size_t a = chains.index(pair.a);
  return !is_floor(pair.b) && !is_soft(layout, chains.part(a)) && !chains.fastened_to_van(a);
}

bool rattles(const Layout& layout, const NearPair& pair, const Chains& chains) {
  if (beyond(pair.distance, kRattle) || pair.distance < -kContact || rests(pair)) return false;
  if (of_van(pair.b)) return rattles_on_van(layout, pair, chains);
  const std::size_t a = chains.index(pair.a);
  const std::size_t b = chains.index(pair.b);
  const Part& first = chains.part(a);
  const Part& second = chains.part(b);
  if (chains.held_together(a, b) || is_soft(layout, first) || is_soft(layout, second)) return false;
  const bool one_module = first.module == second.module;
  if (one_module && chains.same_motion(a, b)) return false;
  // Planks of one row hold each other by tongue and groove.
  if (one_module && first.order > 0 && second.order > 0) return false;
  // Fixed in one module and touching: the screws beside it press it.
  return !one_module || pair.distance > kContact || is_loose(chains, a) || is_loose(chains, b);
}

/// A plural of alike parts under one name.
std::string called(const std::string& id, const Chains& chains) {
  if (of_van(id)) return id.starts_with("vehicle/rib.") ? "vehicle/ribs" : id;
  const Part& part = chains.part(chains.index(id));
  return part.module + ": " + part.title;
}

struct Strip {
  double length;
  double width;
};

Strip strip_of(const NearPair& pair) {
  const Vec3 size = pair.face.size();
  const int axis = main_axis(pair.way);
  const double u = along(size, (axis + 1) % 3);
  const double v = along(size, (axis + 2) % 3);
  return {std::max(u, v), std::min(u, v)};
}

}  // namespace

std::vector<Rattle> judge_rattles(const Layout& layout, const NearResult& near,
                                  const Chains& chains) {
  std::map<std::pair<std::string, std::string>, Rattle> by_name;
  for (const NearPair& pair : near.pairs) {
    if (!rattles(layout, pair, chains)) continue;
    const std::string a = called(pair.a, chains);
    const std::string b = called(pair.b, chains);
    Rattle& rattle = by_name[std::minmax(a, b)];
    const Strip strip = strip_of(pair);
    rattle.a = std::min(a, b);
    rattle.b = std::max(a, b);
    rattle.gap = rattle.places == 0 ? pair.distance : std::min(rattle.gap, pair.distance);
    rattle.gap = std::max(rattle.gap, 0.0);
    ++rattle.places;
    rattle.length = std::max(rattle.length, strip.length);
    rattle.width = std::max(rattle.width, strip.width);
    rattle.area += strip.length * strip.width;
    rattle.ids.push_back(pair.a + " + " + pair.b);
  }
  std::vector<Rattle> list;
  for (auto& [names, rattle] : by_name) list.push_back(std::move(rattle));
  return list;
}

}  // namespace ribbay::detail

#include "stacks.hpp"

#include "judges.hpp"

#include <algorithm>
#include <optional>

namespace ribbay::detail {

Stacks::Stacks(const Layout& layout, const NearResult& near, const Chains& chains)
    : layout_{layout}, chains_{chains} {
  for (const NearPair& pair : near.pairs) {
    if (!of_van(pair.b) || is_floor(pair.b) || main_axis(pair.way) != 1 || beyond(pair.distance, kNear))
      continue;
    const double off = survey_off(layout, pair);
    const std::string& module = chains.part(chains.index(pair.a)).module;
    const auto [at, fresh] = walls_.try_emplace({module, pair.way.y > 0.0}, off);
    if (!fresh) at->second = std::max(at->second, off);
  }
}

Stack Stacks::of(const NearPair& pair) const {
  return make_stack(contributors(pair, main_axis(pair.way)));
}

Face Stacks::face_a(const NearPair& pair, int axis) const {
  return {chains_.index(pair.a), along(pair.at, axis) - along(pair.way, axis) * pair.distance / 2};
}

Face Stacks::face_b(const NearPair& pair, int axis) const {
  return {chains_.index(pair.b), along(pair.at, axis) + along(pair.way, axis) * pair.distance / 2};
}

/// What nothing leads to is set by hand.
std::vector<Contributor> Stacks::or_by_hand(std::optional<std::vector<Contributor>> chain,
                                            const std::string& part) const {
  if (chain) return std::move(*chain);
  return {{"assembly", part, layout_.tolerances.assembly}};
}

std::vector<Contributor> Stacks::contributors(const NearPair& pair, int axis) const {
  if (of_van(pair.b)) return to_van(pair, axis);
  const bool high = along(pair.way, axis) > 0.0;
  const std::string& module = chains_.part(chains_.index(pair.a)).module;
  const std::string& other = chains_.part(chains_.index(pair.b)).module;
  const Face a = face_a(pair, axis);
  const Face b = face_b(pair, axis);
  if (module == other) return or_by_hand(chains_.between(a, b, axis), pair.a);
  std::vector<Contributor> all = or_by_hand(chains_.to_side(a, axis, high), pair.a);
  for (const Contributor& c : or_by_hand(chains_.to_side(b, axis, !high), pair.b)) add(all, c);
  all.push_back({"fitting", module, layout_.tolerances.fitting});
  return all;
}

/// Between two walls what is left is shared: the size and both surveys count half.
std::vector<Contributor> Stacks::to_van(const NearPair& pair, int axis) const {
  const bool high = along(pair.way, axis) > 0.0;
  const std::string& module = chains_.part(chains_.index(pair.a)).module;
  const auto other_wall = walls_.find({module, !high});
  const bool between_walls = axis == 1 && other_wall != walls_.end();
  std::vector<Contributor> all = or_by_hand(
      chains_.to_side(face_a(pair, axis), axis, between_walls ? !high : high), pair.a);
  all.push_back({"survey", pair.b, survey_off(layout_, pair)});
  if (between_walls) {
    all.push_back({"survey", "the other wall", other_wall->second});
    for (Contributor& c : all) c.tolerance /= 2;
  }
  all.push_back({"fitting", module, layout_.tolerances.fitting});
  return all;
}

}  // namespace ribbay::detail

#include "coarse_bound.hpp"

#include "master.hpp"

namespace ribbay::detail {

namespace {

constexpr std::size_t kGroups = 60;

/// Group of an item, the groups about equally many sizes each.
std::size_t group_of(std::size_t item, const Instance& instance) {
  return item * kGroups / instance.items.size();
}

Instance in_groups(const Instance& instance) {
  Instance coarse{{}, instance.stocks};
  for (std::size_t i = 0; i < instance.items.size(); ++i) {
    const std::size_t group = group_of(i, instance);
    if (group == coarse.items.size()) coarse.items.push_back({});
    coarse.items[group].size = instance.items[i].size;  // the last of them is the shortest
    coarse.items[group].demand += instance.items[i].demand;
  }
  return coarse;
}

}  // namespace

Certificate coarse_certificate(const Instance& instance, Effort& effort) {
  const Instance coarse = in_groups(instance);
  Master master(coarse, effort);
  master.ask(demand_of(coarse), available_of(coarse), {});
  Certificate certificate;
  if (!master.solve(kImpossible - 1)) return length_certificate(instance);
  // Shorter pieces fit wherever longer ones do: a bar of these holds no more worth than it can of
  // their groups.
  certificate = certificate_of(coarse, master.certificate().worth, effort);
  std::vector<std::int64_t> worth;
  for (std::size_t i = 0; i < instance.items.size(); ++i) {
    worth.push_back(certificate.worth[group_of(i, instance)]);
  }
  certificate.worth = std::move(worth);
  return certificate;
}

}  // namespace ribbay::detail

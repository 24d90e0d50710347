#include "choices.hpp"

#include <algorithm>
#include <functional>

namespace ribbay::detail {

namespace {

constexpr std::int64_t kMostCells = 5'000'000;

/// Sizes of heaps from which any number up to `count` can be put together, and none above: 1, 2, 4,
/// ..., rest.
std::vector<std::int64_t> heaps(std::int64_t count) {
  std::vector<std::int64_t> sizes;
  for (std::int64_t heap = 1; count > 0; heap *= 2) {
    sizes.push_back(std::min(heap, count));
    count -= sizes.back();
  }
  return sizes;
}

/// Allows one more purchase.
void offer(std::vector<std::int64_t>& reach, std::size_t cost, std::int64_t worth) {
  for (std::size_t x = reach.size(); x-- > cost;) {
    if (reach[x - cost] >= 0) reach[x] = std::max(reach[x], reach[x - cost] + worth);
  }
}

}  // namespace

Choices::Choices(const Instance& instance, std::vector<Certificate> certificates,
                 std::int64_t dearest, Effort& effort)
    : instance_(instance),
      certificates_(std::move(certificates)),
      dearest_(dearest),
      effort_(effort) {
  const auto stocks = static_cast<std::int64_t>(instance.stocks.size());
  manageable_ = dearest >= 0 && dearest < kMostCells / (stocks + 1);
  if (!manageable_) return;
  for (const Certificate& certificate : certificates_) reaches_.push_back(reach_of(certificate));
}

Choices::Reach Choices::reach_of(const Certificate& certificate) const {
  const std::size_t stocks = instance_.stocks.size();
  Reach reach(stocks + 1, std::vector<std::int64_t>(static_cast<std::size_t>(dearest_) + 1, -1));
  reach[stocks][0] = 0;
  for (std::size_t s = stocks; s-- > 0;) {
    reach[s] = reach[s + 1];
    const Stock& stock = instance_.stocks[s];
    const std::int64_t affordable =
        stock.cost == 0 ? stock.available
                        : std::min<std::int64_t>(stock.available, dearest_ / stock.cost);
    for (const std::int64_t heap : heaps(affordable)) {
      offer(reach[s], static_cast<std::size_t>(heap * stock.cost), heap * certificate.most[s]);
      effort_.spent += dearest_;
    }
  }
  return reach;
}

bool Choices::refuted(std::size_t stock, std::int64_t cost,
                      const std::vector<std::int64_t>& worth) const {
  for (std::size_t c = 0; c < certificates_.size(); ++c) {
    const std::int64_t more = reaches_[c][stock][static_cast<std::size_t>(cost)];
    if (more < 0 || worth[c] + more < certificates_[c].wanted) return true;
  }
  return false;
}

std::optional<std::int64_t> Choices::next_cost(std::int64_t from) const {
  const std::vector<std::int64_t> nothing(certificates_.size(), 0);
  for (std::int64_t cost = std::max<std::int64_t>(0, from); cost <= dearest_; ++cost) {
    if (!refuted(0, cost, nothing)) return cost;
  }
  return std::nullopt;
}

std::optional<std::vector<Counts>> Choices::at(std::int64_t cost) const {
  std::vector<Counts> found;
  Counts counts(instance_.stocks.size(), 0);
  walk(0, cost, std::vector<std::int64_t>(certificates_.size(), 0), counts, found);
  if (found.size() > kMostChoices) return std::nullopt;
  const auto capacity = [&](const Counts& choice) {
    std::int64_t total = 0;
    for (std::size_t s = 0; s < choice.size(); ++s) {
      total += choice[s] * instance_.stocks[s].capacity;
    }
    return total;
  };
  std::ranges::stable_sort(found, std::greater{}, capacity);
  return found;
}

void Choices::walk(std::size_t stock, std::int64_t cost, std::vector<std::int64_t> worth,
                   Counts& counts, std::vector<Counts>& found) const {
  effort_.spent += 20;
  if (effort_.over() || found.size() > kMostChoices || refuted(stock, cost, worth)) return;
  if (stock == counts.size()) {
    found.push_back(counts);
    return;
  }
  const Stock& here = instance_.stocks[stock];
  // Bars that cost nothing are all taken: more never hinder.
  int& count = counts[stock];
  for (count = here.cost == 0 ? here.available : 0; count <= here.available; ++count) {
    const std::int64_t left = cost - count * here.cost;
    if (left < 0) break;
    std::vector<std::int64_t> next = worth;
    for (std::size_t c = 0; c < next.size(); ++c) {
      next[c] += count * certificates_[c].most[stock];
    }
    walk(stock + 1, left, std::move(next), counts, found);
  }
  count = 0;
}

}  // namespace ribbay::detail

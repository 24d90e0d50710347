#include "tight_fill.hpp"

#include <algorithm>
#include <numeric>

namespace ribbay::detail {

namespace {

constexpr int kTriesPerBar = 300;

class TightFill {
 public:
  TightFill(const Instance& instance, std::size_t preferred, Effort& effort)
      : instance_(instance),
        preferred_(preferred),
        effort_(effort),
        left_(demand_of(instance)),
        next_(instance.items.size() + 1) {
    std::iota(next_.begin(), next_.end(), std::size_t{0});
  }

  std::optional<Solution> run() {
    for (const std::size_t stock : on_hand()) {
      for (int bar = 0; bar < instance_.stocks[stock].available && more(); ++bar) fill(stock);
    }
    while (more()) {
      const auto stock = stock_for(instance_.items[there(0)].size);
      if (!stock) return std::nullopt;
      fill(*stock);
    }
    return std::move(solution_);
  }

 private:
  std::vector<std::size_t> on_hand() const {
    std::vector<std::size_t> stocks;
    for (std::size_t s = 0; s < instance_.stocks.size(); ++s) {
      if (instance_.stocks[s].limited) stocks.push_back(s);
    }
    std::ranges::stable_sort(stocks, {}, [&](std::size_t s) { return instance_.stocks[s].capacity; });
    return stocks;
  }

  std::optional<std::size_t> stock_for(std::int64_t size) const {
    std::optional<std::size_t> found;
    for (std::size_t s = 0; s < instance_.stocks.size(); ++s) {
      const Stock& stock = instance_.stocks[s];
      if (stock.limited || stock.capacity < size) continue;
      if (s == preferred_) return s;
      if (!found || stock.cost < instance_.stocks[*found].cost) found = s;
    }
    return found;
  }

  /// The first item, from this one on, of which something is left; their number when there is none.
  std::size_t there(std::size_t item) {
    while (next_[item] != item) {
      next_[item] = next_[next_[item]];
      item = next_[item];
    }
    return item;
  }
  bool more() { return there(0) < instance_.items.size(); }

  /// The same while some are taken for a try.
  std::size_t untaken(std::size_t item) {
    item = there(item);
    while (item < left_.size() && left_[item] == 0) item = there(item + 1);
    return item;
  }

  /// The first item, from this one on, that is no longer than `room`.
  std::size_t fitting(std::size_t item, std::int64_t room) {
    const auto begin = instance_.items.begin() + static_cast<std::ptrdiff_t>(item);
    const auto found = std::partition_point(begin, instance_.items.end(),
                                            [&](const Item& each) { return each.size > room; });
    return untaken(static_cast<std::size_t>(found - instance_.items.begin()));
  }

  void fill(std::size_t stock) {
    const std::int64_t capacity = instance_.stocks[stock].capacity;
    const std::size_t first = fitting(0, capacity);
    if (first == instance_.items.size()) return;
    tries_ = 0;
    chosen_.clear();
    best_.clear();
    least_ = capacity;
    choose(first, capacity);
    effort_.spent += 60 * tries_;
    Pattern pattern{stock, {}};
    for (const std::size_t item : best_) {
      if (--left_[item] == 0) next_[item] = item + 1;
      if (pattern.cuts.empty() || pattern.cuts.back().item != item) pattern.cuts.push_back({item, 0});
      ++pattern.cuts.back().times;
    }
    add(solution_, instance_, pattern, 1);
  }

  /// Takes `item`, and then what leaves the least of `room`.
  void choose(std::size_t item, std::int64_t room) {
    ++tries_;
    --left_[item];
    chosen_.push_back(item);
    room -= instance_.items[item].size;
    if (room < least_) {
      least_ = room;
      best_ = chosen_;
    }
    const std::size_t end = instance_.items.size();
    for (std::size_t next = fitting(item, room);
         next < end && least_ > 0 && tries_ < kTriesPerBar; next = untaken(next + 1)) {
      choose(next, room);
    }
    chosen_.pop_back();
    ++left_[item];
  }

  const Instance& instance_;
  std::size_t preferred_;
  Effort& effort_;
  Counts left_;
  std::vector<std::size_t> next_;  ///< itself while something is left, else one nearer to that
  Solution solution_;
  int tries_ = 0;
  std::int64_t least_ = 0;
  std::vector<std::size_t> chosen_;
  std::vector<std::size_t> best_;
};

}  // namespace

std::optional<Solution> fill_tightly(const Instance& instance, std::size_t preferred,
                                     Effort& effort) {
  return TightFill(instance, preferred, effort).run();
}

}  // namespace ribbay::detail

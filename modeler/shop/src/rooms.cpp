#include "rooms.hpp"

#include <algorithm>

namespace ribbay::detail {

void Rooms::add(std::int64_t room) {
  rooms_.push_back(room);
  const std::size_t bar = rooms_.size() - 1;
  if (tightest_) {
    by_room_.emplace(room, bar);
  } else if (bar < leaves_) {
    set_leaf(bar);
  } else {
    leaves_ = std::max<std::size_t>(16, 2 * leaves_);
    most_.assign(2 * leaves_, -1);
    for (std::size_t b = 0; b <= bar; ++b) set_leaf(b);
  }
}

void Rooms::take(std::size_t bar, std::int64_t size) {
  if (tightest_) by_room_.erase({rooms_[bar], bar});
  rooms_[bar] -= size;
  if (tightest_) by_room_.emplace(rooms_[bar], bar);
  if (!tightest_) set_leaf(bar);
}

void Rooms::set_leaf(std::size_t bar) {
  std::size_t node = leaves_ + bar;
  most_[node] = rooms_[bar];
  while (node > 1) {
    node /= 2;
    most_[node] = std::max(most_[2 * node], most_[2 * node + 1]);
  }
}

std::optional<std::size_t> Rooms::find(std::int64_t size) const {
  if (tightest_) {
    const auto found = by_room_.lower_bound({size, 0});
    return found == by_room_.end() ? std::nullopt : std::optional(found->second);
  }
  if (most_.empty() || most_[1] < size) return std::nullopt;
  std::size_t node = 1;
  while (node < leaves_) node = most_[2 * node] >= size ? 2 * node : 2 * node + 1;
  return node - leaves_;
}

}  // namespace ribbay::detail

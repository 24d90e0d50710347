#pragma once

#include "changes/parts_record.hpp"

/// Features of a part and whether two of them are one.
namespace ribbay::detail {

std::string_view name(CutRole role);

/// Bounds of an outline, arcs included; z is 0.
Box bounds_of(const Loop& loop);

/// Moves everything that has a place.
void move(PartRecord& part, Vec3 by);

bool near(double a, double b);
bool near(Vec2 a, Vec2 b);

/// Outlines, wherever they begin.
bool same(const Loop& a, const Loop& b);
bool same(const Region& a, const Region& b);
bool same(const Cut& a, const Cut& b);
/// Two holes that one drill makes; which side a hole right through is drilled from does not count.
bool same(const Bore& a, const Bore& b);
bool same(const BendLine& a, const BendLine& b);
bool same(const FinishRecord& a, const FinishRecord& b);

/// Whether the hole `old` is there already when `fresh` is to be made: the same, or less deep.
bool begun(const Bore& old, const Bore& fresh);

/// Pairs up the items of two lists, each once. Returns, for each of `a`, its index in `b` or -1.
template <class Item, class Same>
std::vector<int> pairs(const std::vector<Item>& a, const std::vector<Item>& b, Same is_same) {
  std::vector<int> partner(a.size(), -1);
  std::vector<bool> taken(b.size(), false);
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) {
      if (taken[j] || !is_same(a[i], b[j])) continue;
      partner[i] = static_cast<int>(j);
      taken[j] = true;
      break;
    }
  }
  return partner;
}

/// The same items in any order.
template <class Item>
bool same_all(const std::vector<Item>& a, const std::vector<Item>& b) {
  if (a.size() != b.size()) return false;
  for (const int partner : pairs(a, b, [](const Item&x, const Item&y) { return same(x, y); })) {
    if (partner < 0) return false;
  }
  return true;
}

}  // namespace ribbay::detail

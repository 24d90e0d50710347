#include "sheet_bound.hpp"

#include "base/tolerance.hpp"
#include "choices.hpp"
#include "shop/limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace ribbay::detail {

namespace {

constexpr std::int64_t kMostParts = 8;
constexpr std::size_t kMostLimits = 60;  ///< functions of one family with a size of their own
constexpr std::size_t kLeastLimits = 8;  ///< where there are very many sizes
constexpr double kMostScaled = 1e8;      ///< scaled areas of single items

// No sum of plain areas runs over: a piece counts for at most the largest sheet.
constexpr double kMostTogether = static_cast<double>(std::numeric_limits<std::int64_t>::max()) / 4;
static_assert((kLongestCut / kCut) * (kLongestCut / kCut) * kMostSheetPieces < kMostTogether);

/// f(x) for lengths x up to `whole`; f(whole) = scale, and the f of lengths that fit side by side
/// in `whole` add up to `scale` at most.
struct Scaling {
  enum class Family { plain, steps, cut_off, counted, most_pieces };
  Family family = Family::plain;
  std::int64_t parameter = 1;
  std::int64_t whole = 0;
  std::vector<std::int64_t> sums{};  ///< of most_pieces: how much the one, two, three ... least take

  std::int64_t scale() const {
    switch (family) {
      case Family::steps:
        return parameter * whole;
      case Family::counted:
        return 2 * (whole / parameter);
      case Family::most_pieces:
        return most_in(whole);
      case Family::plain:
      case Family::cut_off:
        break;
    }
    return whole;
  }

  std::int64_t operator()(std::int64_t x) const {
    switch (family) {
      case Family::steps: {
        const std::int64_t more = (parameter + 1) * x;
        return more % whole == 0 ? parameter * x : more / whole * whole;
      }
      case Family::cut_off:
        if (x > whole - parameter) return whole;
        return x < parameter ? 0 : x;
      case Family::counted:
        if (2 * x > whole) return 2 * (whole / parameter - (whole - x) / parameter);
        return 2 * x == whole ? whole / parameter : 2 * (x / parameter);
      case Family::most_pieces:
        if (2 * x > whole) return most_in(whole) - most_in(whole - x);
        return x < parameter ? 0 : 1;
      case Family::plain:
        break;
    }
    return x;
  }

  /// How many of the order's own pieces from `parameter` to half of `whole` fit side by side in `x`.
  std::int64_t most_in(std::int64_t x) const { return std::ranges::upper_bound(sums, x) - sums.begin(); }
};

/// How many scalings are tried.
struct Extent {
  std::int64_t parts = kMostParts;
  std::size_t limits = kMostLimits;
};

/// Less of very many sizes, and no more than the sums of whole numbers bear.
Extent extent_of(const SheetNumbers& numbers, std::int64_t longest, std::int64_t widest) {
  double pieces = 1.0;
  for (const SheetItem& item : numbers.items) pieces += static_cast<double>(item.pieces.size());
  Extent extent;
  const double plain = static_cast<double>(longest) * static_cast<double>(widest) * pieces;
  while (extent.parts > 1 &&
         static_cast<double>(extent.parts * extent.parts) * plain > kMostTogether) {
    --extent.parts;
  }
  const double each_way = std::sqrt(kMostScaled / static_cast<double>(numbers.items.size()));
  const auto limits = static_cast<std::size_t>(each_way / 2.0);
  extent.limits = std::clamp(limits, kLeastLimits, kMostLimits);
  return extent;
}

/// The sizes at which the last two families change, at most `most` of them, spread evenly.
std::vector<std::int64_t> limits_of(std::vector<std::int64_t> sizes, std::int64_t whole,
                                    std::size_t most) {
  std::vector<std::int64_t> limits;
  for (const std::int64_t size : sizes) {
    if (2 * size <= whole) limits.push_back(size);
    if (size <= whole && 2 * (whole - size + 1) <= whole) limits.push_back(whole - size + 1);
  }
  std::ranges::sort(limits);
  limits.erase(std::ranges::unique(limits).begin(), limits.end());
  if (limits.size() <= most) return limits;
  std::vector<std::int64_t> some;
  for (std::size_t k = 0; k < most; ++k) some.push_back(limits[k * limits.size() / most]);
  return some;
}

/// A size along one way of the sheet, and of a piece that may be turned the other one.
struct Reach {
  std::int64_t size = 0;
  std::int64_t turned = 0;
  std::size_t count = 0;
};

/// What pieces take that lie side by side, each from `least` to half of `whole`: one, two, three of
/// them, while they fit.
std::vector<std::int64_t> sums_of(const std::vector<Reach>& reaches, std::int64_t least,
                                  std::int64_t whole) {
  std::vector<std::pair<std::int64_t, std::size_t>> sizes;
  for (const Reach& reach : reaches) {
    std::optional<std::int64_t> smaller;
    for (const std::int64_t size : {reach.size, reach.turned}) {
      if (size >= least && 2 * size <= whole) smaller = std::min(size, smaller.value_or(size));
    }
    if (smaller) sizes.emplace_back(*smaller, reach.count);
  }
  std::ranges::sort(sizes);
  std::vector<std::int64_t> sums;
  std::int64_t sum = 0;
  for (const auto& [size, count] : sizes) {
    for (std::size_t k = 0; k < count; ++k) {
      sum += size;
      if (sum > whole) return sums;
      sums.push_back(sum);
    }
  }
  return sums;
}

std::vector<Scaling> scalings(const std::vector<Reach>& reaches,
                              const std::vector<std::int64_t>& sizes, std::int64_t whole,
                              Extent extent) {
  std::vector<Scaling> all = {{Scaling::Family::plain, 1, whole}};
  for (std::int64_t parts = 1; parts <= extent.parts; ++parts) {
    all.push_back({Scaling::Family::steps, parts, whole});
  }
  for (const std::int64_t limit : limits_of(sizes, whole, extent.limits)) {
    all.push_back({Scaling::Family::cut_off, limit, whole});
    all.push_back({Scaling::Family::counted, limit, whole});
    auto sums = sums_of(reaches, limit, whole);
    if (!sums.empty()) all.push_back({Scaling::Family::most_pieces, limit, whole, std::move(sums)});
  }
  return all;
}

class Bound {
 public:
  Bound(const SheetNumbers& numbers, Effort& effort) : numbers_(numbers), effort_(effort) {
    for (const SheetKind& kind : numbers.kinds) {
      stocks_.stocks.push_back({kind.length * kind.width, kind.cost, kind.available, kind.limited});
      longest_ = std::max(longest_, kind.length);
      widest_ = std::max(widest_, kind.width);
    }
  }

  std::int64_t run(std::int64_t dearest) {
    const Certificate area = area_certificate();
    std::int64_t bound = cost_bound(area, stocks_, available_of(stocks_));
    const Certificate scaled = best_scaled(bound);
    if (bound == kImpossible) return bound;
    const Choices choices(stocks_, {area, scaled}, dearest, effort_);
    if (!choices.manageable()) return bound;
    return choices.next_cost(bound).value_or(std::max(bound, dearest + 1));
  }

 private:
  Certificate area_certificate() const {
    Certificate area;
    for (const Stock& stock : stocks_.stocks) area.most.push_back(stock.capacity);
    for (const SheetItem& item : numbers_.items) {
      area.wanted += item.length * item.width * count(item);
    }
    return area;
  }

  /// The scaled areas that bound best; raises `bound` to theirs.
  Certificate best_scaled(std::int64_t& bound) {
    std::vector<std::int64_t> sizes;
    for (const SheetItem& item : numbers_.items) {
      sizes.push_back(item.length);
      sizes.push_back(item.width);
    }
    const Extent extent = extent_of(numbers_, longest_, widest_);
    const auto across = scalings(reaches(false), sizes, widest_, extent);
    Certificate best = area_certificate();
    double most = 0.0;
    for (const Scaling& along : scalings(reaches(true), sizes, longest_, extent)) {
      effort_.spent += static_cast<std::int64_t>(across.size() * numbers_.items.size() * 20);
      for (const Scaling& other : across) {
        const Certificate scaled = scaled_certificate(along, other);
        const double sheets =
            static_cast<double>(scaled.wanted) / static_cast<double>(scaled.most.front());
        if (sheets <= most) continue;
        most = sheets;
        best = scaled;
      }
    }
    bound = std::max(bound, cost_bound(best, stocks_, available_of(stocks_)));
    return best;
  }

  /// Along the sheet's length or across.
  std::vector<Reach> reaches(bool along) const {
    std::vector<Reach> all;
    for (const SheetItem& item : numbers_.items) {
      const std::int64_t size = along ? item.length : item.width;
      const std::int64_t other = along ? item.width : item.length;
      all.push_back({size, item.turnable ? other : size, item.pieces.size()});
    }
    return all;
  }

  Certificate scaled_certificate(const Scaling& along, const Scaling& across) const {
    Certificate scaled;
    // A smaller sheet fits into the largest size, so it holds no more.
    scaled.most.assign(stocks_.stocks.size(), along.scale() * across.scale());
    for (const SheetItem& item : numbers_.items) {
      std::optional<std::int64_t> least;
      for (const bool turned : {false, true}) {
        const std::int64_t x = turned ? item.width : item.length;
        const std::int64_t y = turned ? item.length : item.width;
        if ((turned && !item.turnable) || x > longest_ || y > widest_) continue;
        const std::int64_t area = along(x) * across(y);
        least = std::min(area, least.value_or(area));
      }
      scaled.wanted += least.value_or(0) * count(item);
    }
    return scaled;
  }

  static std::int64_t count(const SheetItem& item) {
    return static_cast<std::int64_t>(item.pieces.size());
  }

  const SheetNumbers& numbers_;
  Effort& effort_;
  Instance stocks_;  ///< without items
  std::int64_t longest_ = 0;
  std::int64_t widest_ = 0;
};

}  // namespace

std::int64_t sheet_cost_bound(const SheetNumbers& numbers, std::int64_t dearest, Effort& effort) {
  return Bound(numbers, effort).run(dearest);
}

}  // namespace ribbay::detail

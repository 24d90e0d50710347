#include "take_apart.hpp"

#include "base/tolerance.hpp"
#include "blocking.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

namespace ribbay::detail {

namespace {

/// What must slide farther than this comes off later, when it can: another thing is in its way, mm.
constexpr double kLongSlide = 150.0;
/// What is higher than so many times its least level size topples (common practice, no source).
constexpr double kTopples = 3.0;

Move::Undone undone(Blocking& blocking, std::size_t item) {
  const Reach reach = blocking.free_tool(item);
  return {item, reach, reach == Reach::none ? blocking.stopper_of_tool(item) : std::string()};
}

/// Takes units off one after another. Equipment first, then what is made to come out, then what
/// begins highest.
class TakeApart {
 public:
  explicit TakeApart(const Stage& stage)
      : stage_(stage), blocking_(stage), left_(stage.units.size()) {
    laid_ = laid();
    std::iota(left_.begin(), left_.end(), std::size_t{0});
    const auto rank = [&](std::size_t unit) {
      const Group& it = stage.units[unit];
      const Part& part = stage.bench.layout.parts[it.parts.front()];
      // Sums of sizes that should be equal differ in their last digits.
      const auto whole = [](double mm) { return std::lround(mm / kContact); };
      const bool equipment = part.kind == PartKind::equipment;
      return std::tuple{!equipment,
                        !equipment && !made_to_come_out(unit),
                        -whole(it.box.lo.z),
                        -whole(it.box.hi.z),
                        -whole(it.box.lo.x),
                        -whole(it.box.lo.y),
                        unit};
    };
    std::ranges::sort(left_, {}, rank);
  }

  std::vector<Move> run() {
    std::vector<Move> moves;
    while (!left_.empty()) {
      Move move = next();
      for (const std::size_t item : stage_.items_of[move.unit]) {
        if (blocking_.there(stage_.items[item])) move.items.push_back(undo(item));
      }
      move.held = held(move);
      blocking_.take_off(move.unit);
      std::erase(left_, move.unit);
      moves.push_back(std::move(move));
    }
    std::ranges::reverse(moves);
    return moves;
  }

 private:
  /// The way on which the least of it slides.
  void go_shortest(Move& move) {
    const Blocking::Way best = blocking_.shortest_way(move.unit);
    move.way = blocking_.ways(move.unit)[best.index];
    move.travel = std::max(best.slide, best.run);
    move.clear = blocking_.travel(move.unit, move.way);
  }

  Move gone_shortest(Move move) {
    go_shortest(move);
    return move;
  }

  bool is_equipment(std::size_t unit) const {
    const Part& part = stage_.bench.layout.parts[stage_.units[unit].parts.front()];
    return part.kind == PartKind::equipment;
  }

  /// By slides, or by its removal: it goes in last.
  bool made_to_come_out(std::size_t unit) const {
    return blocking_.on_slides(unit) || length(stage_.units[unit].removed) > 0.5;
  }

  Move::Undone undo(std::size_t item) {
    if (stage_.items[item].bolt == nullptr) return {.item = item};
    return undone(blocking_, item);
  }

  bool joined_to_rest(std::size_t unit) const {
    return std::ranges::any_of(stage_.joined[unit],
                               [&](std::size_t other) { return blocking_.stands(other); });
  }

  /// True when something that holds to the van or another module holds it.
  bool holds_outside(std::size_t unit) const {
    return std::ranges::any_of(stage_.items_of[unit],
                               [&](std::size_t item) { return stage_.items[item].outside; });
  }

  bool held(const Move& move) const {
    const bool joined = joined_to_rest(move.unit);
    if (!move.items.empty()) return true;  // fixed to what is left
    if (is_equipment(move.unit)) return holds_outside(move.unit);
    const bool first_on_bench = left_.size() == 1 && !stage_.in_place;
    // What comes from below has nothing under it, not even the bench.
    if (move.straight && move.way.z < -0.5) return false;
    return blocking_.rests(move.unit) && (joined || first_on_bench || lies(move.unit));
  }

  /// True of what does not topple where it is set down.
  bool lies(std::size_t unit) const {
    const Vec3 size = stage_.units[unit].box.size();
    return size.z <= kTopples * std::min(size.x, size.y);
  }

  /// What lies on the van's floor, or on another module.
  std::vector<bool> laid() const {
    std::vector<bool> all(stage_.units.size(), false);
    for (std::size_t unit = 0; stage_.in_place && unit < all.size(); ++unit)
      all[unit] = lies(unit) && blocking_.rests_on_others(unit);
    return all;
  }

  /// What is laid stays under what lies over it, even if it could be drawn out sideways: a floor is
  /// laid from below upwards.
  bool buried(std::size_t unit) const {
    if (!laid_[unit]) return false;
    const Box& own = stage_.units[unit].box;
    return std::ranges::any_of(left_, [&](std::size_t other) {
      const Box& box = stage_.units[other].box;
      return box.lo.z > own.hi.z - kContact && box.lo.x < own.hi.x - kContact &&
             own.lo.x < box.hi.x - kContact && box.lo.y < own.hi.y - kContact &&
             own.lo.y < box.hi.y - kContact;
    });
  }

  /// True when what is left hangs together without it, or as little as before. What is fixed to the
  /// van, or lies on its floor, hangs together by that.
  bool keeps_together(std::size_t without) const {
    return pieces_left(without) <= std::max<std::size_t>(pieces_left(stage_.units.size()), 1);
  }

  std::size_t pieces_left(std::size_t without) const {
    std::vector<bool> seen(stage_.units.size(), false);
    std::vector<std::size_t> open;
    const auto reach = [&](std::size_t unit) {
      if (unit == without || seen[unit] || !blocking_.stands(unit)) return;
      seen[unit] = true;
      open.push_back(unit);
    };
    const auto spread = [&] {
      if (open.empty()) return std::size_t{0};
      while (!open.empty()) {
        const std::size_t at = open.back();
        open.pop_back();
        std::ranges::for_each(stage_.joined[at], reach);
      }
      return std::size_t{1};
    };
    for (const std::size_t unit : left_) {
      if (laid_[unit] || (stage_.in_place && holds_outside(unit))) reach(unit);
    }
    std::size_t count = spread();
    for (const std::size_t unit : left_) {
      reach(unit);
      count += spread();
    }
    return count;
  }

  bool reached(std::size_t unit) {
    return std::ranges::all_of(stage_.items_of[unit], [&](std::size_t item) {
      return !blocking_.there(stage_.items[item]) || undo(item).reach != Reach::none;
    });
  }

  /// What comes off next; when nothing does by a straight move with every tool in reach, what lacks
  /// least.
  Move next() {
    std::optional<Move> first;      // comes off after a long way along what stands beside it
    std::optional<Move> second;     // comes off, and the rest falls apart
    std::optional<Move> past_none;  // comes off, into what stood there before
    std::optional<Move> third;      // a tool does not reach
    for (const std::size_t unit : left_) {
      const auto way = blocking_.free_way(unit);
      if (!way || buried(unit)) continue;
      const Vec3 out = blocking_.ways(unit)[*way];  // a better one is looked for in the end
      Move move{.unit = unit, .way = out, .items = {}};
      if (!reached(unit)) {
        if (!third) third = move;
      } else if (keeps_together(unit)) {
        const Blocking::Way known = blocking_.known_way(unit);
        if (is_equipment(unit) || made_to_come_out(unit) ||
            (known.past && known.slide <= kLongSlide))
          return gone_shortest(move);
        if (known.past) {
          if (!first) first = move;
        } else if (!past_none) {
          past_none = move;
        }
      } else if (!second) {
        second = move;
      }
    }
    if (first) return gone_shortest(*first);
    if (past_none) return gone_shortest(*past_none);
    if (const auto bent = next_bent()) return *bent;
    if (second) return gone_shortest(*second);
    if (third) return gone_shortest(*third);
    const auto top = std::ranges::find_if(left_, [&](std::size_t unit) { return !buried(unit); });
    Move stuck{.unit = top == left_.end() ? left_.front() : *top,
               .way = {},
               .straight = false,
               .items = {}};
    stuck.stoppers = blocking_.stoppers(stuck.unit);
    return stuck;
  }

  /// The first that comes off by a short slide and a way across it, every tool in reach.
  std::optional<Move> next_bent() {
    for (const std::size_t unit : left_) {
      if (blocking_.free_way(unit) || buried(unit) || !keeps_together(unit) || !reached(unit))
        continue;
      if (const auto bend = blocking_.bend(unit)) {
        return Move{.unit = unit,
                    .way = bend->way,
                    .travel = bend->slide,
                    .clear = blocking_.travel(unit, bend->then),
                    .then = bend->then,
                    .items = {}};
      }
    }
    return std::nullopt;
  }

  const Stage& stage_;
  Blocking blocking_;
  std::vector<bool> laid_;
  std::vector<std::size_t> left_;  ///< in the order in which they are tried
};

}  // namespace

std::vector<Move> take_apart(const Stage& stage) {
  return TakeApart(stage).run();
}

std::vector<Move::Undone> fixing_tools(const Stage& stage) {
  Blocking blocking(stage);
  std::vector<Move::Undone> all;
  for (std::size_t item = 0; item < stage.items.size(); ++item) {
    if (stage.items[item].bolt == nullptr) continue;
    all.push_back(undone(blocking, item));
  }
  return all;
}

}  // namespace ribbay::detail

#include "module_order.hpp"

#include "base/tolerance.hpp"
#include "obstacles.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ribbay::detail {

namespace {

/// What is brought to its place from nearer than this is brought there straight, mm (common
/// practice, no source).
constexpr double kRoomBefore = 150.0;

/// For each module those that it needs, by their place in the file, and why.
using Needs = std::vector<std::map<std::size_t, AfterWhy>>;

bool stands_on(const Box& upper, const Box& lower) {
  if (std::abs(upper.lo.z - lower.hi.z) > kContact) return false;
  for (int axis = 0; axis < 2; ++axis) {
    if (std::min(upper.hi[axis], lower.hi[axis]) - std::max(upper.lo[axis], lower.lo[axis]) <
        kContact)
      return false;
  }
  return true;
}

class Order {
 public:
  explicit Order(const Workbench& bench) : bench_(bench), needs_(bench.layout.modules.size()) {
    const Layout& layout = bench.layout;
    for (std::size_t m = 0; m < layout.modules.size(); ++m) by_name_[layout.modules[m].name] = m;
    for (std::size_t part = 0; part < layout.parts.size(); ++part) {
      module_of_.push_back(by_name_.find(layout.parts[part].module));
    }
    add_fixings();
    add_stands();
    add_covers();
  }

  std::vector<OrderedModule> run() const {
    const auto& modules = bench_.layout.modules;
    std::vector<OrderedModule> order;
    std::vector<bool> done(modules.size(), false);
    const auto ready = [&](std::size_t m) {
      return !done[m] &&
             std::ranges::all_of(needs_[m], [&](const auto& n) { return done[n.first]; });
    };
    while (order.size() < modules.size()) {
      std::size_t next = 0;
      while (next < modules.size() && !ready(next)) ++next;
      if (next == modules.size()) {
        next = static_cast<std::size_t>(std::ranges::find(done, false) - done.begin());
      }
      order.push_back({&modules[next]});
      for (const auto& [other, why] : needs_[next]) {
        if (done[other]) order.back().after.push_back({modules[other].name, why});
      }
      done[next] = true;
    }
    return order;
  }

 private:
  std::optional<std::size_t> module(std::size_t part) const {
    const auto at = module_of_[part];
    return at == by_name_.end() ? std::nullopt : std::optional(at->second);
  }

  void need(std::size_t module, std::size_t other, AfterWhy why) {
    if (module != other) needs_[module].try_emplace(other, why);
  }

  /// True when `module` comes after `other`, by whatever lies between.
  bool comes_after(std::size_t module, std::size_t other) const {
    std::vector<std::size_t> open{module};
    std::set<std::size_t> seen{module};
    while (!open.empty()) {
      const std::size_t at = open.back();
      open.pop_back();
      if (at == other) return true;
      for (const auto& [next, why] : needs_[at]) {
        if (seen.insert(next).second) open.push_back(next);
      }
    }
    return false;
  }

  /// A module brings the screws and bolts that fix it to another.
  void add_fixings() {
    for (std::size_t part = 0; part < bench_.layout.parts.size(); ++part) {
      if (bench_.carriers[part].empty() || bench_.is_nut(part)) continue;
      const auto own = module(part);
      for (const std::size_t carrier : bench_.carriers[part]) {
        const auto other = module(carrier);
        if (own && other) need(*own, *other, AfterWhy::fixed);
      }
    }
  }

  void add_stands() {
    const Layout& layout = bench_.layout;
    const auto stands = [&](std::size_t part) {
      return layout.parts[part].kind != PartKind::hardware && module(part).has_value();
    };
    for (std::size_t upper = 0; upper < layout.parts.size(); ++upper) {
      if (!stands(upper)) continue;
      for (std::size_t lower = 0; lower < layout.parts.size(); ++lower) {
        if (!stands(lower) || layout.parts[upper].module == layout.parts[lower].module) continue;
        // What is fixed to another comes after it, however it stands.
        if (needs_[*module(lower)].contains(*module(upper))) continue;
        if (stands_on(bench_.solids[upper].box, bench_.solids[lower].box))
          need(*module(upper), *module(lower), AfterWhy::stands);
      }
    }
  }

  /// Bolts and screws that hold a module to the van or to another one.
  bool is_fixing(std::size_t part) const {
    if (bench_.bolt(part) == nullptr || !module(part)) return false;
    return bench_.to_van[part] ||
           std::ranges::any_of(bench_.carriers[part], [&](std::size_t carrier) {
             return module(carrier) && *module(carrier) != *module(part);
           });
  }

  /// What hides fixings counts more than what takes room; what would lead in a circle is left out.
  void add_covers() {
    std::vector<std::size_t> fixings;
    for (std::size_t part = 0; part < bench_.layout.parts.size(); ++part) {
      if (is_fixing(part)) fixings.push_back(part);
    }
    for (const AfterWhy why : {AfterWhy::covers_fixing, AfterWhy::closes_way}) {
      for (const std::size_t fixing : fixings) {
        for (const std::size_t other : in_the_way(fixing, why)) {
          if (!comes_after(*module(fixing), other)) need(other, *module(fixing), why);
        }
      }
    }
  }

  /// Modules, rising, with a part before the head of the fixing, or before what it holds.
  std::set<std::size_t> in_the_way(std::size_t fixing, AfterWhy why) const {
    const Part& screw = bench_.layout.parts[fixing];
    const Vec3 out = -screw.frame.z;
    std::vector<ToolRoom> rooms;
    std::vector<std::size_t> held;
    if (why == AfterWhy::covers_fixing)
      rooms = tool_rooms(screw, *bench_.bolt(fixing), Reach::straight);
    else
      held = panels_on(fixing);
    std::set<std::size_t> found;
    for (std::size_t part = 0; part < bench_.layout.parts.size(); ++part) {
      if (!module(part) || *module(part) == *module(fixing) || found.contains(*module(part)))
        continue;
      const Solid& solid = bench_.solids[part];
      const bool before = (!rooms.empty() && std::ranges::all_of(rooms,
                                                                 [&](const ToolRoom& room) {
                                                                   return overlap_in(room, solid);
                                                                 })) ||
                          std::ranges::any_of(held, [&](std::size_t panel) {
                            return runs_into(bench_.solids[panel], solid, out, kRoomBefore);
                          });
      if (before) found.insert(*module(part));
    }
    return found;
  }

  /// Panels and boards of its module that a fixing holds.
  std::vector<std::size_t> panels_on(std::size_t fixing) const {
    std::vector<std::size_t> panels;
    for (const std::size_t carrier : bench_.carriers[fixing]) {
      const PartKind kind = bench_.layout.parts[carrier].kind;
      if (module(carrier) == module(fixing) && (kind == PartKind::panel || kind == PartKind::plank))
        panels.push_back(carrier);
    }
    return panels;
  }

  const Workbench& bench_;
  std::map<std::string_view, std::size_t> by_name_;
  std::vector<std::map<std::string_view, std::size_t>::const_iterator> module_of_;
  Needs needs_;
};

}  // namespace

std::vector<OrderedModule> module_order(const Workbench& bench) {
  return Order(bench).run();
}

}  // namespace ribbay::detail

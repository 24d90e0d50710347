#include "module_order.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ribbay::detail {

namespace {

/// For each module those that it needs, by their place in the file.
using Needs = std::vector<std::set<std::size_t>>;

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
  }

  std::vector<const Module*> run() const {
    const auto& modules = bench_.layout.modules;
    std::vector<const Module*> order;
    std::vector<bool> done(modules.size(), false);
    const auto ready = [&](std::size_t m) {
      return !done[m] && std::ranges::all_of(needs_[m], [&](std::size_t n) { return done[n]; });
    };
    while (order.size() < modules.size()) {
      std::size_t next = 0;
      while (next < modules.size() && !ready(next)) ++next;
      if (next == modules.size()) {
        next = static_cast<std::size_t>(std::ranges::find(done, false) - done.begin());
      }
      done[next] = true;
      order.push_back(&modules[next]);
    }
    return order;
  }

 private:
  std::optional<std::size_t> module(std::size_t part) const {
    const auto at = module_of_[part];
    return at == by_name_.end() ? std::nullopt : std::optional(at->second);
  }

  void need(std::size_t module, std::size_t other) {
    if (module != other) needs_[module].insert(other);
  }

  /// A module brings the screws and bolts that fix it to another.
  void add_fixings() {
    for (std::size_t part = 0; part < bench_.layout.parts.size(); ++part) {
      if (bench_.carriers[part].empty() || bench_.is_nut(part)) continue;
      const auto own = module(part);
      for (const std::size_t carrier : bench_.carriers[part]) {
        const auto other = module(carrier);
        if (own && other) need(*own, *other);
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
          need(*module(upper), *module(lower));
      }
    }
  }

  const Workbench& bench_;
  std::map<std::string_view, std::size_t> by_name_;
  std::vector<std::map<std::string_view, std::size_t>::const_iterator> module_of_;
  Needs needs_;
};

}  // namespace

std::vector<const Module*> module_order(const Workbench& bench) { return Order(bench).run(); }

}  // namespace ribbay::detail

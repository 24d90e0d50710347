#include "nuts.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

std::vector<NutRun> nut_runs(const Workbench& bench, const Group& unit) {
  const Layout& layout = bench.layout;
  std::vector<NutRun> runs;
  if (unit.parts.size() != 1) return runs;  // a subassembly has its nuts in already
  const Part& member = layout.parts[unit.parts.front()];
  struct Found {
    double along;
    const std::string* id;
  };
  // By the way the slot looks, and by its place across the member.
  std::map<std::tuple<long, long, long, long, long>, std::vector<Found>> slots;
  for (const std::size_t rider : unit.riders) {
    if (!bench.is_nut(rider)) continue;
    const Frame& nut = layout.parts[rider].frame;
    const Vec3 out = member.frame.local_direction(-nut.z);
    const Vec3 at = member.frame.local_point(nut.origin);
    const auto whole = [](double value) { return std::lround(value * 10.0); };
    slots[{whole(out.x), whole(out.y), whole(out.z), whole(at.x), whole(at.y)}].push_back(
        {at.z, &layout.parts[rider].id});
  }
  for (auto& [key, nuts] : slots) {
    double sum = 0.0;
    for (const Found& nut : nuts) sum += nut.along;
    // From the end that they lie nearer to.
    const bool far_end = sum > member.stock.length / 2 * static_cast<double>(nuts.size());
    NutRun run{.member = member.id,
               .slot = member.frame.direction({static_cast<double>(std::get<0>(key)) / 10.0,
                                               static_cast<double>(std::get<1>(key)) / 10.0,
                                               static_cast<double>(std::get<2>(key)) / 10.0}),
               .from = far_end ? member.frame.z : -member.frame.z,
               .nuts = {},
               .places = {}};
    for (Found& nut : nuts) nut.along = far_end ? member.stock.length - nut.along : nut.along;
    std::ranges::sort(nuts, [](const Found& a, const Found& b) {
      return std::tuple{-a.along, *a.id} < std::tuple{-b.along, *b.id};
    });
    for (const Found& nut : nuts) {
      run.nuts.push_back(*nut.id);
      run.places.push_back(nut.along);
    }
    runs.push_back(std::move(run));
  }
  return runs;
}

std::vector<SquareCheck> square_checks(const Workbench& bench, const std::string& module) {
  std::vector<Box> boxes;
  Box all;
  for (std::size_t i = 0; i < bench.layout.parts.size(); ++i) {
    const Part& part = bench.layout.parts[i];
    if (part.module != module || (part.kind != PartKind::member && part.kind != PartKind::panel))
      continue;
    boxes.push_back(bench.solids[i].box);
    all.add(boxes.back());
  }
  struct View {
    const char* name;
    int across, up, depth;
  };
  std::vector<SquareCheck> checks;
  if (boxes.size() < 4) return checks;
  for (const View& view : {View{"plan", 1, 0, 2}, View{"front", 1, 2, 0}, View{"side", 0, 2, 1}}) {
    const auto reached = [&](bool right, bool top) {
      return std::ranges::any_of(boxes, [&](const Box& box) {
        const double u = right ? all.hi[view.across] - box.hi[view.across]
                               : box.lo[view.across] - all.lo[view.across];
        const double v =
            top ? all.hi[view.up] - box.hi[view.up] : box.lo[view.up] - all.lo[view.up];
        return u < kPrinted && v < kPrinted;
      });
    };
    if (!reached(false, false) || !reached(false, true) || !reached(true, false) ||
        !reached(true, true))
      continue;
    const Vec3 size = all.size();
    checks.push_back({.module = module,
                      .view = view.name,
                      .width = size[view.across],
                      .height = size[view.up],
                      .diagonal = std::hypot(size[view.across], size[view.up]),
                      .from = all.lo,
                      .to = all.hi});
    checks.back().to[view.depth] = all.lo[view.depth];
  }
  return checks;
}

}  // namespace ribbay::detail

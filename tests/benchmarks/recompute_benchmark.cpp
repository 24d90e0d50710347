#include "recompute_benchmark.hpp"

#include "assembly/assembly.hpp"
#include "clearance/clearance.hpp"
#include "judgement/judgement.hpp"
#include "layout/project.hpp"

#include <cstdio>
#include <ctime>
#include <functional>
#include <string>

using namespace ribbay;

namespace {

/// Processor time of this thread: other programs may run beside. Least of some, in ms.
double least_of(int runs, const std::function<void()>& work) {
  const auto now = [] {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) * 1e3 + static_cast<double>(t.tv_nsec) * 1e-6;
  };
  double least = 1e300;
  for (int i = 0; i < runs; ++i) {
    const double start = now();
    work();
    least = std::min(least, now() - start);
  }
  return least;
}

Layout demo(double spacer) {
  const std::string path = std::string(RIBBAY_SOURCE_DIR) + "/params/marsh/marsh.toml";
  const auto inputs = read_inputs(path, {"values.spacer=" + std::to_string(spacer) + "mm"});
  return std::move(*lay_out(*inputs.value).value);
}

std::size_t percent(Memo::Use before, Memo::Use after) {
  return 100 * (after.worked_out - before.worked_out) / std::max<std::size_t>(after.asked - before.asked, 1);
}

void demo_after_one_value() {
  double spacer = 62.0;
  Layout layout;
  const auto next = [&] { layout = demo(spacer += 0.25); };
  const double laid_out = least_of(9, next);
  const double checks = least_of(9, [&] { (void)check_clearance(layout, 1); });
  const double judged = least_of(9, [&] { (void)judge(layout, 1); });
  const double order = least_of(9, [&] { (void)plan_assembly(layout); });
  std::printf("Marsh after one changed value, one core\n");
  std::printf("  from scratch: read and lay out %.1f ms, static and motion checks %.1f ms, stacks "
              "and fits %.1f ms, orders of assembly %.1f ms\n",
              laid_out, checks, judged, order);
  Memo memo;
  (void)check_clearance(layout, 1, false, &memo);
  (void)judge(layout, 1, &memo);
  double checks_again = 1e300;
  double judged_again = 1e300;
  const Memo::Uses before = memo.uses();
  for (int i = 0; i < 9; ++i) {
    next();
    checks_again = std::min(
        checks_again, least_of(1, [&] { (void)check_clearance(layout, 1, false, &memo); }));
    judged_again = std::min(judged_again, least_of(1, [&] { (void)judge(layout, 1, &memo); }));
  }
  const Memo::Uses after = memo.uses();
  std::printf("  with a memo: checks %.1f ms, stacks and fits %.1f ms: 1 to %.1f\n", checks_again,
              judged_again, (checks + judged) / (checks_again + judged_again));
  std::printf("  worked out again: %zu %% of the places, %zu %% of the pairs, %zu %% of what moves\n",
              percent(before.places, after.places), percent(before.pairs, after.pairs),
              percent(before.motions, after.motions));
}

/// Boards in stacks of ten, each resting on the next, all of other sizes; one of them gets thicker.
void many_boards() {
  std::printf("boards with rounded corners, one changed\n");
  for (const int count : {500, 2000, 5000}) {
    Layout layout;
    for (int i = 0; i < count; ++i) {
      Part part;
      char id[24];
      std::snprintf(id, sizeof id, "m%04d/board", i);
      part.id = id;
      part.module = part.id.substr(0, 5);
      const double width = 90.0 + i % 17;
      part.shape = std::make_shared<const Shape>(
          Shape{{{{{rectangle({0, 0}, {width, 90}, 8)}, 20, {}, {}, {}}, {}}}, {}});
      const int stack = i / 10;
      part.frame.origin = {110.0 * (stack % 20), 110.0 * (stack / 20), 20.0 * (i % 10)};
      layout.parts.push_back(std::move(part));
    }
    const double scratch = least_of(3, [&] { (void)check_clearance(layout, 1); });
    Memo memo;
    (void)check_clearance(layout, 1, false, &memo);
    double again = 1e300;
    for (int i = 0; i < 5; ++i) {
      layout.parts[42].frame.origin.x += 0.5;
      again = std::min(again, least_of(1, [&] { (void)check_clearance(layout, 1, false, &memo); }));
    }
    std::printf("  %5d boards: from scratch %.1f ms, with a memo %.1f ms: 1 to %.1f\n", count, scratch,
                again, scratch / again);
  }
}

}  // namespace

void one_change_after_another() {
  demo_after_one_value();
  many_boards();
}

#include "bench/bench_set.hpp"

#include "bench/tape_out.hpp"
#include "print_page.hpp"
#include "sections.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay {

std::vector<SetPage> bench_set(const Layout& layout, const AssemblyPlan& plan,
                               const BenchOptions& options) {
  std::vector<SetPage> pages = detail::saw_pages(layout, options);
  for (std::vector<SetPage> more :
       {detail::part_pages(layout, options), detail::assembly_pages(layout, plan, options),
        tape_out(layout, options)}) {
    std::ranges::move(more, std::back_inserter(pages));
  }
  detail::number_pages(pages);
  return pages;
}

}  // namespace ribbay

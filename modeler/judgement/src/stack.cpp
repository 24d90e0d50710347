#include "judgement/stack.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay {

double Stack::share(const Contributor& contributor) const {
  if (rss <= 0.0) return 0.0;
  const double part = contributor.tolerance / rss;
  return part * part;
}

Stack make_stack(std::vector<Contributor> contributors) {
  std::erase_if(contributors, [](const Contributor& c) { return c.tolerance <= 0.0; });
  std::ranges::sort(contributors, [](const Contributor& a, const Contributor& b) {
    if (a.tolerance != b.tolerance) return a.tolerance > b.tolerance;
    return std::tie(a.what, a.of) < std::tie(b.what, b.of);
  });
  Stack stack;
  double squares = 0.0;
  for (const Contributor& c : contributors) {
    stack.worst += c.tolerance;
    squares += c.tolerance * c.tolerance;
  }
  stack.rss = std::sqrt(squares);
  stack.contributors = std::move(contributors);
  return stack;
}

}  // namespace ribbay

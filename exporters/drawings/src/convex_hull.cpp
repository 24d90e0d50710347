#include "drawings/convex_hull.hpp"

#include <algorithm>

namespace ribbay {

std::vector<Vec2> convex_hull(std::vector<Vec2> points) {
  std::ranges::sort(points, [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  std::vector<Vec2> out;
  const auto add_chain = [&](auto first, auto last) {
    const std::size_t start = out.size();
    for (auto p = first; p != last; ++p) {
      while (out.size() > start + 1 &&
             cross(out.back() - out[out.size() - 2], *p - out[out.size() - 2]) <= 0.0)
        out.pop_back();
      out.push_back(*p);
    }
    out.pop_back();
  };
  add_chain(points.begin(), points.end());
  add_chain(points.rbegin(), points.rend());
  return out;
}

}  // namespace ribbay

#include "drawings/hatching.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay {

namespace {

constexpr double kShortest = 1e-6;

int winding(const Outlines& area, Vec2 p) {
  int count = 0;
  for (const auto& loop : area) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i] - p;
      const Vec2 b = loop[(i + 1) % loop.size()] - p;
      if ((a.y <= 0.0) == (b.y <= 0.0)) continue;
      const bool left = cross(a, b) > 0.0;
      if (left == (b.y > a.y)) count += left ? 1 : -1;
    }
  }
  return count;
}

/// Places along the line origin + t * along where it crosses an outline.
void add_crossings(const std::vector<Vec2>& loop, Vec2 origin, Vec2 along,
                   std::vector<double>& at) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec2 a = loop[i] - origin;
    const Vec2 b = loop[(i + 1) % loop.size()] - origin;
    const double sa = cross(along, a);
    const double sb = cross(along, b);
    if ((sa < 0.0) == (sb < 0.0)) continue;
    at.push_back(dot(along, a + (b - a) * (sa / (sa - sb))));
  }
}

}  // namespace

bool inside(const Outlines& area, Vec2 p) {
  return winding(area, p) != 0;
}

std::vector<std::pair<Vec2, Vec2>> hatch(const Outlines& area,
                                         const std::vector<std::vector<Vec2>>& spared,
                                         const HatchStyle& style) {
  const Vec2 along = normalized(Vec2{1.0, style.falling ? -1.0 : 1.0});
  const Vec2 across = perpendicular(along);
  double lo = std::numeric_limits<double>::infinity();
  double hi = -lo;
  for (const auto& loop : area) {
    for (const Vec2 p : loop) {
      lo = std::min(lo, dot(across, p));
      hi = std::max(hi, dot(across, p));
    }
  }
  std::vector<std::pair<Vec2, Vec2>> lines;
  if (!(lo < hi)) return lines;
  std::vector<double> at;
  // Half a step off, so that no line runs along an outline through the origin.
  for (double k = std::ceil(lo / style.spacing - 0.5); (k + 0.5) * style.spacing < hi; k += 1.0) {
    const Vec2 origin = across * ((k + 0.5) * style.spacing);
    at.clear();
    for (const auto& loop : area) add_crossings(loop, origin, along, at);
    for (const auto& loop : spared) add_crossings(loop, origin, along, at);
    std::ranges::sort(at);
    double from = 0.0;
    bool drawing = false;
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      if (at[i + 1] - at[i] < kShortest) continue;
      const Vec2 middle = origin + along * ((at[i] + at[i + 1]) / 2);
      const bool in = winding(area, middle) != 0 &&
                      std::ranges::none_of(spared, [&](const std::vector<Vec2>& loop) {
                        return winding({loop}, middle) != 0;
                      });
      if (in && !drawing) from = at[i];
      if (!in && drawing) lines.emplace_back(origin + along * from, origin + along * at[i]);
      drawing = in;
    }
    if (drawing) lines.emplace_back(origin + along * from, origin + along * at.back());
  }
  return lines;
}

double strip_width(const Outlines& area) {
  double size = 0.0;
  double round = 0.0;
  int strips = 0;
  for (const auto& loop : area) {
    double twice = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 next = loop[(i + 1) % loop.size()];
      twice += cross(loop[i] - loop[0], next - loop[0]);
      round += length(next - loop[i]);
    }
    size += twice / 2.0;
    strips += twice > 0.0 ? 1 : 0;
  }
  if (strips == 0) return 0.0;
  // Of one strip: length + width is half its circumference, length x width its size.
  const double half = round / strips / 2.0;
  return (half - std::sqrt(std::max(0.0, half * half - 4.0 * size / strips))) / 2.0;
}

}  // namespace ribbay

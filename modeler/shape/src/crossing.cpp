#include "shape/crossing.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <ranges>

namespace ribbay {

std::optional<std::pair<double, double>> crossing(const ConvexPiece& piece, Vec3 at,
                                                  Vec3 direction) {
  double enters = -1e9;
  double leaves = 1e9;
  for (const Vec3 normal : piece.normals) {  // between its two planes across each of them
    const auto [low, high] = std::ranges::minmax(
        piece.vertices | std::views::transform([&](Vec3 v) { return dot(normal, v - at); }));
    const double towards = dot(normal, direction);
    if (std::abs(towards) < kSame) {
      if (low > 0.0 || high < 0.0) return std::nullopt;
      continue;
    }
    enters = std::max(enters, std::min(low / towards, high / towards));
    leaves = std::min(leaves, std::max(low / towards, high / towards));
  }
  if (leaves <= enters) return std::nullopt;
  return std::pair{enters, leaves};
}

}  // namespace ribbay

#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace ribbay::detail {

/// Tukey's biweight: 1 for what lies on the fit, 0 from `reach` on. Source of the method: Huber and
/// Ronchetti, Robust Statistics, 2nd ed., 4.8; from memory.
inline double biweight(double residual, double reach) {
  const double t = residual / reach;
  if (std::abs(t) >= 1.0) return 0.0;
  const double s = 1.0 - t * t;
  return s * s;
}

/// 95 % efficient on normal noise with this many times its standard deviation (from memory).
inline constexpr double kBiweightReach = 4.685;
/// Median absolute deviation of normal noise to its standard deviation.
inline constexpr double kMadToSigma = 1.4826;

/// The value below which `share` of the values lie; 0 when there are none.
inline double quantile(std::vector<double>& values, double share) {
  if (values.empty()) return 0.0;
  const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + k, values.end());
  return values[static_cast<std::size_t>(k)];
}

/// Weighted least squares with N unknowns, summed up observation by observation.
template <std::size_t N>
class LeastSquares {
 public:
  using Row = std::array<double, N>;

  void add(const Row& row, double value, double weight) {
    for (std::size_t i = 0; i < N; ++i) {
      for (std::size_t k = 0; k < N; ++k) normal_[i][k] += weight * row[i] * row[k];
      normal_[i][N] += weight * row[i] * value;
    }
    sum_ += weight;
  }

  /// An unknown that nothing tells about comes out as 0: a trace of weight draws each one there.
  Row solve() const {
    auto m = normal_;
    for (std::size_t i = 0; i < N; ++i) m[i][i] += 1e-9 * (sum_ + 1.0);
    for (std::size_t c = 0; c < N; ++c) {
      std::size_t pivot = c;
      for (std::size_t r = c + 1; r < N; ++r) {
        if (std::abs(m[r][c]) > std::abs(m[pivot][c])) pivot = r;
      }
      std::swap(m[c], m[pivot]);
      for (std::size_t r = 0; r < N; ++r) {
        if (r == c) continue;
        const double factor = m[r][c] / m[c][c];
        for (std::size_t k = c; k <= N; ++k) m[r][k] -= factor * m[c][k];
      }
    }
    Row result{};
    for (std::size_t i = 0; i < N; ++i) result[i] = m[i][N] / m[i][i];
    return result;
  }

 private:
  std::array<std::array<double, N + 1>, N> normal_{};
  double sum_ = 0.0;
};

}  // namespace ribbay::detail

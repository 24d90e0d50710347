#pragma once

#include <cstdint>
#include <vector>

namespace ribbay {

/// Why no cheaper plan exists, for a reader who trusts nothing but whole numbers. All lengths in
/// 0.01 mm.
///
/// Give each piece a worth. A bar of stock s can hold pieces worth at most `most(s)`: a knapsack,
/// anybody can solve it again. So bars bought `k(s)` times hold at most the sum of k(s) most(s);
/// when all pieces together are worth more than that, those bars cannot give all pieces. The claim
/// is that every choice of bars, none taken more often than it is there, that costs less than
/// `cost_bound` is refused in this way by at least one of the lists in `worths`.
struct BarsProof {
  struct Piece {
    std::int64_t size = 0;  ///< length and one saw cut
    int count = 0;
  };
  struct Stock {
    std::int64_t capacity = 0;  ///< length less trims, and one saw cut
    std::int64_t cost = 0;      ///< of one bar, in the smallest unit that makes all costs whole
    int count = 0;              ///< on hand, when `limited`
    bool limited = false;
  };
  std::vector<Piece> pieces;
  std::vector<Stock> stock;
  std::int64_t cost_bound = 0;
  std::vector<std::vector<std::int64_t>> worths;  ///< each has one entry per piece
};

}  // namespace ribbay

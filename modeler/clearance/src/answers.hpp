#pragma once

#include "clearance/memo.hpp"

#include <atomic>
#include <bit>
#include <cstdint>
#include <mutex>
#include <shared_mutex>
#include <unordered_map>
#include <vector>

/// Answers kept by their questions.
namespace ribbay::detail {

/// The content of something, bit by bit.
using Word = std::uint64_t;
using Words = std::vector<Word>;

inline Word word(double value) { return std::bit_cast<Word>(value); }

/// Of a row of words; equal rows are told by comparing them.
struct WordsHash {
  template <class Row>
  std::size_t operator()(const Row& row) const {
    Word sum = row.size();
    for (const Word each : row) {
      sum = (sum ^ each) * 0x9e3779b97f4a7c15ULL;  // odd, near 2^64 over the golden ratio
      sum ^= sum >> 29;
    }
    return static_cast<std::size_t>(sum);
  }
};

/// So many answers of one kind are kept; then all are forgotten. At some hundred bytes each they
/// stay below 100 MB.
inline constexpr std::size_t kMostAnswers = 200'000;

template <class Question, class Answer>
class Answers {
 public:
  /// The answer to a question, worked out unless it is known.
  template <class Work>
  Answer get(const Question& question, Work work) {
    ++asked_;
    {
      const std::shared_lock lock(mutex_);
      const auto known = known_.find(question);
      if (known != known_.end()) return known->second;
    }
    ++worked_out_;
    Answer answer = work();
    const std::unique_lock lock(mutex_);
    if (known_.size() >= kMostAnswers) known_.clear();
    known_.try_emplace(question, answer);
    return answer;
  }

  void add_to(Memo::Use& use) const {
    use.asked += asked_;
    use.worked_out += worked_out_;
  }

 private:
  std::unordered_map<Question, Answer, WordsHash> known_;
  std::shared_mutex mutex_;
  std::atomic<std::size_t> asked_ = 0;
  std::atomic<std::size_t> worked_out_ = 0;
};

}  // namespace ribbay::detail

#pragma once

#include <cstddef>
#include <memory>

namespace ribbay {

namespace detail {
class Recall;
}

/// What checks have worked out, kept for the next layout: hand the same memo to the checks of a
/// project before and after a change, and only what the change touches is worked out again.
///
/// A question is the whole content of what an answer depends on, to the last bit: shapes, where they
/// stand, motions, limits. Equal questions have equal answers, so the findings are those of a check
/// from scratch; names, joints and rules are judged afresh each time. Questions are compared in
/// full, so no two of them can be taken for each other. Several threads may use one memo.
class Memo {
 public:
  Memo();
  ~Memo();
  Memo(const Memo&) = delete;
  Memo& operator=(const Memo&) = delete;

  /// How often something was asked for, and how often it had to be worked out.
  struct Use {
    std::size_t asked = 0;
    std::size_t worked_out = 0;
  };
  struct Uses {
    Use shapes;   ///< divided into convex pieces
    Use places;   ///< pieces put to their place
    Use pairs;    ///< two bodies measured
    Use motions;  ///< a moving body and what it may meet
  };
  Uses uses() const;

  /// For the checks.
  detail::Recall& recall() { return *recall_; }

 private:
  std::unique_ptr<detail::Recall> recall_;
};

}  // namespace ribbay

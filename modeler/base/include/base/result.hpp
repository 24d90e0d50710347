#pragma once

#include <iterator>
#include <tl/expected.hpp>
#include <utility>

#include "base/finding.hpp"

namespace ribbay {

/// Either a value, or every reason why there is none (never an empty list).
template <class T>
using Result = tl::expected<T, Findings>;

inline tl::unexpected<Findings> fail(Finding finding) {
  return tl::unexpected(Findings{std::move(finding)});
}
inline tl::unexpected<Findings> fail(Findings findings) {
  return tl::unexpected(std::move(findings));
}

/// What succeeded, plus findings about what did not. What depends on a failed value is left out and is not
/// reported a second time.
template <class T>
struct Built {
  T value{};
  Findings findings;
};

/// Moves the findings of `from` behind those of `to` and returns the value.
template <class T>
T take(Built<T>&& from, Findings& to) {
  to.insert(to.end(), std::make_move_iterator(from.findings.begin()),
            std::make_move_iterator(from.findings.end()));
  return std::move(from.value);
}

}  // namespace ribbay

#pragma once

#include "base/text.hpp"
#include "spec/origin.hpp"

#include <string>

namespace ribbay {

/// Where a value comes from, for a terminal: its value, the expression as written and where, what
/// it replaced, and the tree of what it uses, one line each, down to numbers.
std::string origin_page(const Origin& origin, LengthStyle show);

/// The same as JSON: `name`, `kind`, `written`, `place`, `replaced`, `value` with `unit` (lengths
/// in mm) or `answer`, and `uses`, a list of the same. What is not there is null.
std::string origin_json(const Origin& origin);

}  // namespace ribbay

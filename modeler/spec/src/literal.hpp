#pragma once

#include "tokens.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace ribbay::detail {

/// A number as it is written, with its unit.
struct Literal {
  Quantity quantity;
  Span at;                       ///< of the literal, or of what is wrong in it
  std::size_t taken = 0;         ///< tokens
  std::optional<Finding> fault;  ///< without place; then `quantity` means nothing
};

/// Reads the literal that starts at the first of `tokens`, a number. `sign` belongs to it: -20 degC
/// is not the opposite of 20 degC. The first currency that is met becomes `currency` while that is
/// empty; any other is a fault. Syntax:
///
///     literal  := decimal | quantity
///     quantity := (decimal | mixed) unit, more of the same kind in falling units: 3 ft 2 1/2 in
///     mixed    := whole? n/d              no space around the stroke
///     unit     := word | mark | % | currency | force length | length force | unit/unit
Literal read_literal(std::string_view text, std::span<const Token> tokens, double sign,
                     std::string& currency);

}  // namespace ribbay::detail

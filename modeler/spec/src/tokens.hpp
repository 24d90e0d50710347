#pragma once

#include "expression.hpp"

#include <string_view>
#include <vector>

namespace ribbay::detail {

struct Token {
  /// A mark is ' or " (or a prime), for feet and inches.
  enum class Kind { number, name, mark, symbol, bad, end };
  Kind kind = Kind::end;
  std::string_view text;
  Span at;
  bool spaced = false;  ///< space stands before it
  bool whole = false;   ///< a number without point or exponent

  bool is(std::string_view symbol) const {
    return text == symbol && (kind == Kind::symbol || kind == Kind::name);
  }
};

/// and, or, not, if
bool is_keyword(const Token& token);

/// The words of an expression, closed by an `end`. Characters that mean nothing here become `bad`.
std::vector<Token> tokens_of(std::string_view text);

}  // namespace ribbay::detail

#pragma once

#include "base/finding.hpp"
#include "spec/dimension.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ribbay::detail {

/// Bytes of an expression's text.
struct Span {
  std::size_t offset = 0;
  std::size_t length = 0;
};

/// What an expression yields: a number, a condition, or nothing because something in it failed.
struct Term {
  enum class Kind { failed, number, condition };
  Kind kind = Kind::failed;
  Quantity quantity;
  bool truth = false;

  bool failed() const { return kind == Kind::failed; }
  static Term of(Quantity quantity) { return {Kind::number, quantity, false}; }
  static Term of(bool truth) { return {Kind::condition, {}, truth}; }
};

/// What an expression asks of the world around it. Whoever answers with a failed term has reported
/// why.
struct Surroundings {
  /// `counts` is false in the part of an `if`, `and` or `or` that does not matter: there, what is
  /// left out is no fault, and any value of its dimension will do.
  std::function<Term(std::string_view name, Span at, bool counts)> name;
  std::function<Term(std::string_view question, std::span<const Quantity> arguments, Span at)>
      question;
  std::function<void(Finding finding, Span at)> report;
  /// Levels of parentheses and of values inside values that are open now. Shared by all expressions
  /// that are being computed, since they stand on one stack.
  int* depth = nullptr;
  /// The currency that money is told in; empty until it is known, and then the first one that is
  /// met. Shared by all expressions of a document.
  std::string* currency = nullptr;
};

/// Deepest nesting of parentheses and values.
inline constexpr int kDeepest = 250;

/// Computes an expression. Syntax:
///
///     expression := expression OPERATOR expression
///                 | - expression | not expression | ( expression )
///                 | literal | name | word ( expression , ... )
///     OPERATOR   := or | and | < <= > >= == != | + - | * /      weakest first; comparisons do not
///                   chain
///     literal    := see literal.hpp
///     name       := word . word ...
///
/// Both sides of `if`, `and`, `or` are looked up and checked; arithmetic faults in the side that
/// does not count are no faults. After a syntax fault nothing more is reported.
Term evaluate(std::string_view text, const Surroundings& around);

/// The words that evaluate() answers itself: "min", "max", ...
const std::vector<std::string>& built_in_words();

/// The value of a text that is nothing but a decimal number, sign allowed: "12.5".
std::optional<double> plain_number(std::string_view text);

/// The value of "2", "0.5", "1/2" or "1 1/2".
std::optional<double> mixed_number(std::string_view text);

}  // namespace ribbay::detail

#include "expression.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "literal.hpp"
#include "spec/currency.hpp"
#include "tokens.hpp"
#include "units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace ribbay::detail {

namespace {

struct Operand {
  Term term;
  Span at;
};

Span from_to(Span first, Span last) {
  return {first.offset, last.offset + last.length - first.offset};
}

/// How strongly an operator binds; 0 for what is no operator.
int strength(const Token& token) {
  if (token.is("or")) return 1;
  if (token.is("and")) return 2;
  for (const std::string_view sign : {"<", "<=", ">", ">=", "==", "!="}) {
    if (token.is(sign)) return 3;
  }
  if (token.is("+") || token.is("-")) return 4;
  if (token.is("*") || token.is("/")) return 5;
  return 0;
}
constexpr int kComparison = 3;
constexpr int kProduct = 5;

/// Sizes that differ only by rounding count as equal, so that 3 * 0.1 m == 300 mm.
bool same(double a, double b, Dimension dimension) {
  const double rounding =
      dimension == dimension::length ? kSame : 1e-12 * std::max(std::abs(a), std::abs(b));
  return std::abs(a - b) <= rounding;
}

bool compare(std::string_view sign, double a, double b, Dimension dimension) {
  const bool equal = same(a, b, dimension);
  if (sign == "==") return equal;
  if (sign == "!=") return !equal;
  if (sign == "<") return !equal && a < b;
  if (sign == "<=") return equal || a < b;
  if (sign == ">") return !equal && a > b;
  return equal || a > b;
}

/// A ratio within a billionth of a whole number is that number: 0.3 / 0.1 has three whole parts.
double whole_part(std::string_view word, double ratio) {
  const double near = std::round(ratio);
  if (word == "round" || std::abs(ratio - near) <= 1e-9 * std::max(1.0, std::abs(ratio)))
    return near;
  return word == "floor" ? std::floor(ratio) : std::ceil(ratio);
}

class Calculation {
 public:
  Calculation(std::string_view text, const Surroundings& around)
      : text_(text), around_(around), tokens_(tokens_of(text)) {}

  Term run() {
    if (now().kind == Token::Kind::end) return stop("expression.empty", now().at).term;
    const Operand result = expression(1);
    if (broken_) return {};
    if (now().kind != Token::Kind::end) return misplaced().term;
    return result.term;
  }

 private:
  // Reading -------------------------------------------------------------------------------------

  const Token& now() const { return tokens_[next_]; }
  const Token& ahead(std::size_t count) const {
    return tokens_[std::min(next_ + count, tokens_.size() - 1)];
  }
  Token take() {
    const Token token = now();
    if (token.kind != Token::Kind::end) ++next_;
    return token;
  }
  std::string words(Span at) const { return std::string(text_.substr(at.offset, at.length)); }

  // Reporting -----------------------------------------------------------------------------------

  Finding finding(std::string code, Span at) const {
    Finding result;
    result.code = std::move(code);
    result.with("part", words(at));
    return result;
  }

  /// A fault of meaning: the rest of the expression is still read, so that its faults are told too.
  Operand fault(Finding finding, Span at) {
    if (!broken_) around_.report(std::move(finding), at);
    return {{}, at};
  }

  /// A fault of syntax: nothing after it can be trusted.
  Operand stop(Finding finding, Span at) {
    const Operand nothing = fault(std::move(finding), at);
    broken_ = true;
    return nothing;
  }
  Operand stop(std::string code, Span at) { return stop(finding(std::move(code), at), at); }

  /// A fault of arithmetic, which is none where the value does not count.
  Operand arithmetic_fault(Finding finding, Span at, Dimension dimension) {
    if (quiet_ > 0) return {Term::of(Quantity{1.0, dimension}), at};
    return fault(std::move(finding), at);
  }

  Operand number(double value, Dimension dimension, Span at) {
    if (!std::isfinite(value)) {
      return arithmetic_fault(finding("expression.overflow", at), at, dimension);
    }
    return {Term::of(Quantity{value, dimension}), at};
  }

  static bool is_foreign(const Token& token) {
    return token.kind == Token::Kind::bad || token.kind == Token::Kind::mark;
  }

  /// A character that no expression has, or a mark without a number before it.
  Operand foreign(const Token& token) {
    if (!currency_of_sign(token.text)) return stop("expression.bad_character", token.at);
    return money_sign(token, *currency_of_sign(token.text));
  }

  /// The code behind a sign of money; empty when several currencies use it.
  static std::optional<std::string_view> currency_of_sign(std::string_view sign) {
    if (sign == "\xE2\x82\xAC") return "EUR";
    if (sign == "\xC2\xA3") return "GBP";
    if (sign == "$" || sign == "\xC2\xA5") return "";  // of many dollars; of yen and yuan
    return std::nullopt;
  }

  /// `$ 12`, `EUR 12`: money that is not written as the amount and then its code.
  Operand money_sign(const Token& sign, std::string_view code) {
    Finding wrong = finding("expression.currency_sign", sign.at);
    if (code.empty()) code = *around_.currency;
    wrong.with("example", code.empty() ? std::string("EUR") : std::string(code));
    return stop(std::move(wrong), sign.at);
  }

  /// A token that cannot stand where an operator or the end should.
  Operand misplaced() {
    const Token& found = now();
    if (is_foreign(found)) return foreign(found);
    if (found.is(",") && next_ > 0 && tokens_[next_ - 1].whole &&
        ahead(1).kind == Token::Kind::number && !ahead(1).spaced) {
      const Span at = from_to(tokens_[next_ - 1].at, ahead(1).at);
      std::string mended = words(at);
      std::ranges::replace(mended, ',', '.');
      return stop(finding("expression.decimal_comma", at).with("mended", mended), at);
    }
    if (strength(found) == kComparison) return stop("expression.chained_comparison", found.at);
    if (found.is(")")) return stop("expression.not_opened", found.at);
    return stop("expression.operator_expected", found.at);
  }

  // Expressions ---------------------------------------------------------------------------------

  Operand expression(int weakest) {
    if (++*around_.depth > kDeepest) {
      --*around_.depth;
      return stop("expression.too_deep", now().at);
    }
    Operand left = prefixed();
    while (!broken_) {
      const Token sign = now();
      const int power = strength(sign);
      if (power == 0 || power < weakest) break;
      take();
      const bool settled =
          left.term.kind == Term::Kind::condition &&
          ((sign.is("and") && !left.term.truth) || (sign.is("or") && left.term.truth));
      quiet_ += settled ? 1 : 0;
      const Operand right = expression(power + 1);
      quiet_ -= settled ? 1 : 0;
      if (broken_) break;
      left = combine(sign, left, right);
      if (power == kComparison && strength(now()) == kComparison) {
        stop("expression.chained_comparison", now().at);
      }
    }
    --*around_.depth;
    return left;
  }

  Operand prefixed() {
    const Token sign = now();
    if (sign.is("not")) {
      take();
      const Operand right = expression(kComparison);
      const Span at = from_to(sign.at, right.at);
      if (right.term.failed()) return {{}, at};
      if (right.term.kind != Term::Kind::condition) return condition_needed(right);
      return {Term::of(!right.term.truth), at};
    }
    if (!sign.is("-") && !sign.is("+")) return primary();
    take();
    const double factor = sign.is("-") ? -1.0 : 1.0;
    // The sign belongs to the literal: -20 degC is not the opposite of 20 degC.
    if (now().kind == Token::Kind::number) return literal(factor);
    const Operand right = expression(kProduct + 1);
    const Span at = from_to(sign.at, right.at);
    if (right.term.failed()) return {{}, at};
    if (right.term.kind != Term::Kind::number) return number_needed(right);
    if (right.term.quantity.scale_point) return temperature_reading(right.at);
    return number(factor * right.term.quantity.value, right.term.quantity.dimension, at);
  }

  Operand primary() {
    const Token token = now();
    if (token.kind == Token::Kind::number) return literal(1.0);
    if (token.is("(")) return parenthesis();
    if (is_foreign(token)) return foreign(token);
    if (token.kind == Token::Kind::end) return stop("expression.incomplete", token.at);
    if (token.kind == Token::Kind::symbol || (is_keyword(token) && !token.is("if"))) {
      return stop("expression.value_expected", token.at);
    }
    if (is_currency(token.text) && ahead(1).kind == Token::Kind::number) {
      return money_sign(token, token.text);
    }
    take();
    if (now().is("(")) return call(token);
    if (token.is("if")) return stop("expression.value_expected", token.at);
    return {around_.name(token.text, token.at, quiet_ == 0), token.at};
  }

  Operand parenthesis() {
    const Span open = take().at;
    const Operand inside = expression(1);
    if (broken_) return inside;
    if (!close(open)) return {};
    return {inside.term, from_to(open, tokens_[next_ - 1].at)};
  }

  bool close(Span open) {
    if (now().is(")")) {
      take();
      return true;
    }
    if (now().kind == Token::Kind::end) {
      stop("expression.not_closed", open);
    } else {
      misplaced();
    }
    return false;
  }

  Operand literal(double sign) {
    Literal read = read_literal(text_, std::span(tokens_).subspan(next_), sign, *around_.currency);
    if (read.fault) return stop(std::move(*read.fault), read.at);
    next_ += read.taken;
    Operand result = number(read.quantity.value, read.quantity.dimension, read.at);
    result.term.quantity.scale_point = read.quantity.scale_point;
    return result;
  }

  // Operators -----------------------------------------------------------------------------------

  Operand condition_needed(const Operand& found) {
    return fault(finding("expression.condition_needed", found.at), found.at);
  }
  Operand number_needed(const Operand& found) {
    return fault(finding("expression.number_needed", found.at), found.at);
  }

  /// "40" becomes "40 mm", "count" becomes "count * 1 mm".
  static std::string with_unit(const std::string& part, const std::string& unit) {
    if (plain_number(part)) return part + " " + unit;
    const bool single = tokens_of(part).size() == 2;
    return (single ? part : "(" + part + ")") + " * 1 " + unit;
  }

  Operand temperature_reading(Span at) {
    return fault(finding("expression.temperature_reading", at), at);
  }

  Operand power_too_high(Span at) {
    Finding result = finding("expression.power_too_high", at);
    result.with("limit", kHighestPower, Unit::count);
    return fault(std::move(result), at);
  }

  Operand dimensions_differ(std::string_view sign, const Operand& left, const Operand& right) {
    const Dimension a = left.term.quantity.dimension;
    const Dimension b = right.term.quantity.dimension;
    const bool bare_left = a == dimension::none;
    const bool bare = bare_left || b == dimension::none;
    const Span at = bare ? (bare_left ? left.at : right.at) : from_to(left.at, right.at);
    Finding result = finding("expression.dimensions_differ", at);
    result.with("operator", std::string(sign))
        .with("left", dimension_name(a))
        .with("right", dimension_name(b));
    const auto unit = unit_to_write(bare_left ? b : a, *around_.currency);
    if (bare && unit) result.with("mended", with_unit(words(at), *unit));
    return fault(std::move(result), at);
  }

  Operand combine(const Token& sign, const Operand& left, const Operand& right) {
    const Span at = from_to(left.at, right.at);
    if (left.term.failed() || right.term.failed()) return {{}, at};
    const bool logical = sign.is("and") || sign.is("or");
    for (const Operand* side : {&left, &right}) {
      const bool is_number = side->term.kind == Term::Kind::number;
      if (logical && is_number) return condition_needed(*side);
      if (!logical && !is_number) return number_needed(*side);
    }
    if (sign.is("and")) return {Term::of(left.term.truth && right.term.truth), at};
    if (sign.is("or")) return {Term::of(left.term.truth || right.term.truth), at};

    return calculate(sign, left, right, at);
  }

  Operand calculate(const Token& sign, const Operand& left, const Operand& right, Span at) {
    const Quantity a = left.term.quantity;
    const Quantity b = right.term.quantity;
    if (sign.is("*") || sign.is("/")) return scale(sign.is("*"), left, right, at);
    if (a.dimension != b.dimension) return dimensions_differ(sign.text, left, right);
    if (sign.is("+") && a.scale_point && b.scale_point) return temperature_reading(at);
    if (sign.is("+") || sign.is("-")) {
      const bool added = sign.is("+");
      Operand sum = number(added ? a.value + b.value : a.value - b.value, a.dimension, at);
      // A reading and a difference make a reading; two readings leave a difference.
      sum.term.quantity.scale_point =
          added ? a.scale_point || b.scale_point : a.scale_point && !b.scale_point;
      return sum;
    }
    return {Term::of(compare(sign.text, a.value, b.value, a.dimension)), at};
  }

  /// Products and quotients.
  Operand scale(bool multiplied, const Operand& left, const Operand& right, Span at) {
    const Quantity a = left.term.quantity;
    const Quantity b = right.term.quantity;
    for (const Operand* side : {&left, &right}) {
      if (side->term.quantity.scale_point) return temperature_reading(side->at);
    }
    const auto dimension =
        multiplied ? product(a.dimension, b.dimension) : quotient(a.dimension, b.dimension);
    if (!dimension) return power_too_high(at);
    if (multiplied) return number(a.value * b.value, *dimension, at);
    if (b.value == 0.0) {
      return arithmetic_fault(finding("expression.division_by_zero", right.at), right.at,
                              *dimension);
    }
    return number(a.value / b.value, *dimension, at);
  }

  // Words with arguments ------------------------------------------------------------------------

  Operand call(const Token& word) {
    const Span open = take().at;
    std::vector<Operand> arguments;
    const bool choosing = word.is("if");
    while (!now().is(")") || !arguments.empty()) {
      // Of the two results of `if`, the one that is not chosen may divide by zero.
      bool quiet = false;
      if (choosing && (arguments.size() == 1 || arguments.size() == 2)) {
        const Term& condition = arguments.front().term;
        quiet =
            condition.kind != Term::Kind::condition || condition.truth != (arguments.size() == 1);
      }
      quiet_ += quiet ? 1 : 0;
      arguments.push_back(expression(1));
      quiet_ -= quiet ? 1 : 0;
      if (broken_) return {};
      if (!now().is(",")) break;
      take();
    }
    if (!close(open)) return {};
    const Span at = from_to(word.at, tokens_[next_ - 1].at);
    if (choosing) return choose(arguments, at);
    return answer(word, arguments, at);
  }

  bool count_is(std::string_view word, const std::vector<Operand>& arguments, std::size_t least,
                std::size_t most, Span at) {
    if (arguments.size() >= least && arguments.size() <= most) return true;
    Finding wrong = finding("expression.wrong_argument_count", at);
    wrong.subjects = {std::string(word)};
    wrong.with("given", static_cast<double>(arguments.size()), Unit::count)
        .with("usage", usage(word));
    fault(std::move(wrong), at);
    return false;
  }

  static std::string usage(std::string_view word) {
    if (word == "if") return "if(condition, value, other)";
    if (word == "abs") return "abs(value)";
    if (word == "clamp") return "clamp(value, lowest, highest)";
    if (word == "min" || word == "max") return std::string(word) + "(value, value, ...)";
    return std::string(word) + "(value, step)";
  }

  Operand choose(const std::vector<Operand>& arguments, Span at) {
    if (!count_is("if", arguments, 3, 3, at)) return {{}, at};
    const Term condition = arguments[0].term;
    if (condition.kind == Term::Kind::number) return condition_needed(arguments[0]);
    for (const Operand& argument : arguments) {
      if (argument.term.failed()) return {{}, at};
    }
    const Operand& yes = arguments[1];
    const Operand& no = arguments[2];
    if (yes.term.kind != no.term.kind) {
      return number_needed(yes.term.kind == Term::Kind::condition ? yes : no);
    }
    if (yes.term.quantity.dimension != no.term.quantity.dimension) {
      return dimensions_differ("if", yes, no);
    }
    return {condition.truth ? yes.term : no.term, at};
  }

  Operand answer(const Token& word, const std::vector<Operand>& arguments, Span at) {
    for (const Operand& argument : arguments) {
      if (argument.term.kind == Term::Kind::condition) return number_needed(argument);
      if (argument.term.failed()) return {{}, at};
    }
    const bool built_in = std::ranges::find(built_in_words(), word.text) != built_in_words().end();
    if (built_in) return compute(word.text, arguments, at);
    std::vector<Quantity> quantities;
    for (const Operand& argument : arguments) quantities.push_back(argument.term.quantity);
    return {around_.question(word.text, quantities, word.at), at};
  }

  Operand compute(std::string_view word, const std::vector<Operand>& arguments, Span at) {
    const auto value = [&](std::size_t i) { return arguments[i].term.quantity.value; };
    const bool rounding = word == "floor" || word == "ceil" || word == "round";
    const std::size_t least = word == "clamp" ? 3 : 1;
    const std::size_t most = word == "clamp" ? 3 : word == "abs" ? 1 : rounding ? 2 : 1000;
    if (!count_is(word, arguments, least, most, at)) return {{}, at};

    const Dimension dimension = arguments[0].term.quantity.dimension;
    for (const Operand& argument : arguments) {
      if (argument.term.quantity.dimension != dimension) {
        return dimensions_differ(word, arguments[0], argument);
      }
    }
    bool reading = false;
    for (const Operand& argument : arguments) {
      reading = reading || argument.term.quantity.scale_point;
      if (reading && (word == "abs" || rounding)) return temperature_reading(argument.at);
    }
    const auto result_of = [&](double chosen) {
      Operand result = number(chosen, dimension, at);
      result.term.quantity.scale_point = reading;
      return result;
    };
    if (word == "abs") return result_of(std::abs(value(0)));
    if (word == "clamp") {
      if (value(1) > value(2)) {
        return arithmetic_fault(finding("expression.bad_clamp", at), at, dimension);
      }
      return result_of(std::clamp(value(0), value(1), value(2)));
    }
    if (rounding) return round_to_step(word, arguments, at);
    double result = value(0);
    for (std::size_t i = 1; i < arguments.size(); ++i) {
      result = word == "min" ? std::min(result, value(i)) : std::max(result, value(i));
    }
    return result_of(result);
  }

  /// floor, ceil and round; a value with a unit needs to be told its step.
  Operand round_to_step(std::string_view word, const std::vector<Operand>& arguments, Span at) {
    const Quantity value = arguments[0].term.quantity;
    if (arguments.size() == 1 && value.dimension != dimension::none) {
      Finding missing = finding("expression.step_needed", at);
      missing.subjects = {std::string(word)};
      missing.with("kind", dimension_name(value.dimension));
      if (const auto unit = unit_to_write(value.dimension, *around_.currency)) {
        missing.with("unit", *unit).with("inside", words(arguments[0].at));
      }
      return fault(std::move(missing), at);
    }
    const double step = arguments.size() == 1 ? 1.0 : arguments[1].term.quantity.value;
    if (step == 0.0) {
      const Span zero = arguments[1].at;
      return arithmetic_fault(finding("expression.division_by_zero", zero), zero, value.dimension);
    }
    return number(whole_part(word, value.value / step) * step, value.dimension, at);
  }

  std::string_view text_;
  const Surroundings& around_;
  std::vector<Token> tokens_;
  std::size_t next_ = 0;
  int quiet_ = 0;  ///< above zero where the value does not count
  bool broken_ = false;
};

}  // namespace

Term evaluate(std::string_view text, const Surroundings& around) {
  return Calculation(text, around).run();
}

const std::vector<std::string>& built_in_words() {
  static const std::vector<std::string> words = {"abs", "ceil", "clamp", "floor",
                                                 "if",  "max",  "min",   "round"};
  return words;
}

std::optional<double> plain_number(std::string_view text) {
  // Most texts are none: no need to take them apart.
  if (text.find_first_not_of("0123456789.eE+- \t\r\n") != std::string_view::npos)
    return std::nullopt;
  const std::vector<Token> tokens = tokens_of(text);
  const std::size_t first = tokens[0].is("-") || tokens[0].is("+") ? 1 : 0;
  if (tokens.size() != first + 2 || tokens[first].kind != Token::Kind::number) return std::nullopt;
  double value = 0.0;
  const std::string_view digits = tokens[first].text;
  const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (result.ec != std::errc()) return std::nullopt;
  return tokens[0].is("-") ? -value : value;
}

std::optional<double> mixed_number(std::string_view text) {
  const std::vector<Token> tokens = tokens_of(text);
  std::vector<double> numbers;
  for (const Token& token : tokens) {
    if (token.kind != Token::Kind::number) continue;
    const auto value = plain_number(token.text);
    if (!value) return std::nullopt;
    numbers.push_back(*value);
  }
  const std::size_t count = tokens.size() - 1;
  if (count == 1 && numbers.size() == 1) return numbers[0];
  const bool fraction = (count == 3 || count == 4) && tokens[count - 2].is("/") &&
                        numbers.size() == count - 1 && numbers.back() != 0.0;
  if (!fraction) return std::nullopt;
  const double part = numbers[numbers.size() - 2] / numbers.back();
  return count == 3 ? part : numbers[0] + part;
}

}  // namespace ribbay::detail

#include "literal.hpp"

#include "base/text.hpp"
#include "spec/currency.hpp"
#include "units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace ribbay::detail {

namespace {

double value_of(const Token& token) {
  double value = 0.0;
  const auto result =
      std::from_chars(token.text.data(), token.text.data() + token.text.size(), value);
  if (result.ec != std::errc::result_out_of_range) return value;
  // Too small is zero; too large is told as an overflow.
  const std::size_t exponent = token.text.find_first_of("eE");
  const bool tiny = exponent != std::string_view::npos && token.text[exponent + 1] == '-';
  return tiny ? 0.0 : HUGE_VAL;
}

std::string in_capitals(std::string_view word) {
  std::string capitals(word);
  for (char& c : capitals) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  return capitals;
}

/// The force that people mean by a unit of mass, or nothing.
std::string_view force_of(std::string_view mass) {
  if (mass == "lb" || mass == "lbs") return "lbf";
  return mass == "kg" ? "kgf" : "";
}

bool is_foot(const UnitName& unit) {
  return unit.dimension == dimension::length && unit.factor == find_unit("ft")->factor;
}
bool is_inch(const UnitName& unit) {
  return unit.dimension == dimension::length && unit.factor == find_unit("in")->factor;
}

class Reader {
 public:
  Reader(std::string_view text, std::span<const Token> tokens, std::string& currency)
      : text_(text), tokens_(tokens), currency_(currency) {}

  Literal run(double sign) {
    Literal result;
    if (const auto quantity = read(sign)) result.quantity = *quantity;
    result.fault = std::move(fault_);
    result.at = result.fault ? fault_at_ : so_far();
    result.taken = next_;
    return result;
  }

 private:
  const Token& ahead(std::size_t count) const {
    return tokens_[std::min(next_ + count, tokens_.size() - 1)];
  }
  const Token& now() const { return ahead(0); }
  Token take() {
    const Token token = now();
    if (token.kind != Token::Kind::end) ++next_;
    return token;
  }

  static Span from_to(const Token& first, const Token& last) {
    return {first.at.offset, last.at.offset + last.at.length - first.at.offset};
  }
  Span so_far() const { return from_to(tokens_.front(), tokens_[next_ - 1]); }
  std::string words(Span at) const { return std::string(text_.substr(at.offset, at.length)); }

  Finding finding(std::string code, Span at) const {
    Finding result;
    result.code = std::move(code);
    result.with("part", words(at));
    return result;
  }
  std::nullopt_t fail(Finding finding, Span at) {
    fault_ = std::move(finding);
    fault_at_ = at;
    return std::nullopt;
  }
  std::nullopt_t fail(std::string code, Span at) { return fail(finding(std::move(code), at), at); }

  /// A word or mark that may be a unit stands `skip` tokens ahead.
  bool is_word(std::size_t skip) const {
    const Token& token = ahead(skip);
    return token.kind == Token::Kind::mark || token.is("%") ||
           (token.kind == Token::Kind::name && !is_keyword(token));
  }

  // Numbers -------------------------------------------------------------------------------------

  /// `5/8` without spaces, starting `skip` tokens ahead.
  bool is_fraction(std::size_t skip) const {
    return ahead(skip).whole && ahead(skip + 1).is("/") && !ahead(skip + 1).spaced &&
           ahead(skip + 2).whole && !ahead(skip + 2).spaced;
  }

  /// `2-1/2 in`, as drawings write two and a half inches: read as a difference it would have no
  /// kind.
  bool is_dashed_fraction() const {
    return now().whole && ahead(1).is("-") && !ahead(1).spaced && !ahead(2).spaced &&
           is_fraction(2) && is_word(5);
  }

  std::nullopt_t dashed_fraction() {
    const Span at = from_to(now(), ahead(5));
    std::string mended = words(at);
    mended[ahead(1).at.offset - at.offset] = ' ';
    return fail(finding("expression.dash_in_fraction", at).with("mended", mended), at);
  }

  struct Amount {
    double value = 0.0;
    bool fraction = false;
  };

  /// A decimal, `23 5/8` or `5/8`; the last only before a unit, since elsewhere it is a division.
  std::optional<Amount> amount() {
    if (is_dashed_fraction()) return dashed_fraction();
    const bool mixed = now().whole && is_fraction(1);
    const bool alone = is_fraction(0) && is_word(3);
    const Token start = now();
    const double whole = alone ? 0.0 : value_of(take());
    if (!mixed && !alone) return Amount{whole, false};
    const double above = value_of(take());
    take();
    const Token below = take();
    const double parts = value_of(below);
    const Span at = from_to(start, below);
    if (parts == 0.0) return fail("expression.division_by_zero", at);
    if (mixed && above >= parts) return fail("expression.bad_fraction", at);
    return Amount{whole + above / parts, true};
  }

  // Units ---------------------------------------------------------------------------------------

  std::optional<UnitName> money(const Token& code) {
    if (currency_.empty()) currency_ = code.text;
    if (currency_ == code.text) return UnitName{code.text, 1.0, dimension::money};
    return fail(finding("expression.other_currency", code.at).with("currency", currency_), code.at);
  }

  std::optional<UnitName> single_unit(const Token& token) {
    if (const UnitName* known = find_unit(token.text)) return *known;
    if (is_currency(token.text)) return money(token);
    if (const AmbiguousUnit* ambiguous = find_ambiguous_unit(token.text)) {
      return fail(finding("expression.ambiguous_unit", token.at)
                      .with("choices", std::string(ambiguous->choices)),
                  token.at);
    }
    Finding unknown = finding("expression.unknown_unit", token.at);
    const std::string capitals = in_capitals(token.text);
    const bool scale = token.text == "C" || token.text == "F";
    const std::string near = is_currency(capitals) ? capitals
                             : scale               ? "deg" + capitals
                                                   : nearest(token.text, unit_names());
    if (!near.empty()) unknown.with("nearest", near);
    return fail(std::move(unknown), token.at);
  }

  /// Tokens from here to a unit that the one before is multiplied by: `N m`, `N·m`; 0 when there is
  /// none. A dash counts too, as in `ft-lb`, for the mistake that it is.
  std::size_t to_factor(bool dashes) const {
    const bool dot = now().text == "\xC2\xB7";
    const bool dash = dashes && now().is("-") && !now().spaced && !ahead(1).spaced;
    const std::size_t skip = dot || dash ? 1 : 0;
    const bool unit =
        ahead(skip).kind == Token::Kind::name && find_unit(ahead(skip).text) != nullptr;
    return unit ? skip + 1 : 0;
  }

  /// `lb ft`, `ft-lb`, `kg m` where a force times a length is meant.
  bool is_mass_for_force(const UnitName& first) const {
    const std::size_t skip = to_factor(true);
    if (skip == 0) return false;
    const Dimension second = find_unit(ahead(skip - 1).text)->dimension;
    return (first.dimension == dimension::mass && second == dimension::length) ||
           (first.dimension == dimension::length && second == dimension::mass);
  }

  std::nullopt_t mass_for_force(const Token& first) {
    const Token& second = ahead(to_factor(true) - 1);
    const Span at = from_to(first, second);
    Finding wrong = finding("expression.mass_for_force", at);
    const bool mass_first = find_unit(first.text)->dimension == dimension::mass;
    const std::string_view force = force_of(mass_first ? first.text : second.text);
    if (!force.empty()) {
      wrong.with("mended", mass_first ? std::string(force) + " " + std::string(second.text)
                                      : std::string(first.text) + " " + std::string(force));
    }
    return fail(std::move(wrong), at);
  }

  /// `mm`, `N m`, `kg/m3`.
  std::optional<UnitName> unit() {
    const Token token = take();
    const std::optional<UnitName> first = single_unit(token);
    if (!first) return std::nullopt;
    if (token.kind == Token::Kind::name && is_mass_for_force(*first)) return mass_for_force(token);
    if (const std::size_t skip = to_factor(false); skip > 0) {
      const UnitName* second = find_unit(ahead(skip - 1).text);
      const auto together = product(first->dimension, second->dimension);
      if (together == dimension::torque) {
        next_ += skip;
        return UnitName{"", first->factor * second->factor, dimension::torque};
      }
    }
    const bool stroke = now().is("/") && !now().spaced && ahead(1).kind == Token::Kind::name &&
                        !ahead(1).spaced && find_unit(ahead(1).text) != nullptr;
    if (!stroke) return first;
    take();
    const UnitName* below = find_unit(take().text);
    return UnitName{"", first->factor / below->factor,
                    *quotient(first->dimension, below->dimension)};
  }

  // Feet and inches -----------------------------------------------------------------------------

  /// Tokens from the dash in `3'-2 1/2"` to the mark of the inches, or 0 when there is no such
  /// dash. With a space on both sides the dash is a minus.
  std::size_t dashed_inches() const {
    const bool spaced = now().spaced && ahead(1).spaced;
    if (!now().is("-") || spaced || ahead(1).kind != Token::Kind::number) return 0;
    const std::size_t skip = is_fraction(1) ? 4 : is_fraction(2) ? 5 : 2;
    const UnitName* inches = is_word(skip) ? find_unit(ahead(skip).text) : nullptr;
    return inches != nullptr && is_inch(*inches) ? skip : 0;
  }

  std::nullopt_t dash_after_feet(std::size_t to_inches) {
    const Span feet = so_far();
    const std::string inches = words(from_to(ahead(1), ahead(to_inches)));
    const Span at = from_to(tokens_.front(), ahead(to_inches));
    return fail(finding("expression.dash_after_feet", at)
                    .with("length", words(feet) + " " + inches)
                    .with("difference", words(feet) + " - " + inches),
                at);
  }

  // The whole -----------------------------------------------------------------------------------

  std::optional<Quantity> read(double sign) {
    double total = 0.0;
    double offset = 0.0;
    std::optional<UnitName> last;
    while (now().kind == Token::Kind::number) {
      const Token part = now();
      const std::optional<Amount> count = amount();
      if (!count) return std::nullopt;
      if (!is_word(0)) {
        const Span at = from_to(part, tokens_[next_ - 1]);
        if (count->fraction) return fail("expression.fraction_without_unit", at);
        if (last) return fail("expression.unit_missing", at);
        return Quantity{sign * count->value, dimension::none};
      }
      const std::optional<UnitName> named = unit();
      if (!named) return std::nullopt;
      const bool joins = !last || (last->dimension == named->dimension &&
                                   last->factor > named->factor && named->offset == 0.0);
      if (!joins) {
        return fail("expression.unit_order", so_far());
      }
      total += count->value * named->factor;
      offset += named->offset;
      last = named;
      const std::size_t to_inches = is_foot(*named) ? dashed_inches() : 0;
      if (to_inches > 0) return dash_after_feet(to_inches);
    }
    return Quantity{sign * total + offset, last->dimension, offset != 0.0};
  }

  std::string_view text_;
  std::span<const Token> tokens_;
  std::string& currency_;
  std::size_t next_ = 0;
  std::optional<Finding> fault_;
  Span fault_at_;
};

}  // namespace

Literal read_literal(std::string_view text, std::span<const Token> tokens, double sign,
                     std::string& currency) {
  return Reader(text, tokens, currency).run(sign);
}

}  // namespace ribbay::detail

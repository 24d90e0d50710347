#include "files.hpp"

#include <muParser.h>

#include <cmath>
#include <random>

using namespace ribbay;

// Random expressions against muParser, a general-purpose library (Debian package libmuparser-dev).
// Each is a tree that is written twice, with as few parentheses as precedence allows, so that both
// must agree on precedence and order too. Left out is what the two mean differently: chains of
// comparisons, equality of rounded values (comparisons are of sums and products of eighths, which
// are exact), and division by zero.

namespace {

/// An expression in our words and in theirs; `binding` is how strongly its outermost operator
/// binds: 1 or, 2 and, 3 comparison, 4 sum, 5 product, 6 all else.
struct Written {
  std::string ours;
  std::string theirs;
  int binding = 6;
};

Written in_parentheses(const Written& inner) {
  return {"(" + inner.ours + ")", "(" + inner.theirs + ")", 6};
}

class Author {
 public:
  explicit Author(unsigned seed) : random_(seed) {}

  Written number(int depth) {
    if (depth == 0 || one_in(6)) return literal();
    switch (pick(9)) {
      case 0:
      case 1:
        return joined(one_in(2) ? "+" : "-", 4, number(depth - 1), number(depth - 1));
      case 2:
      case 3:
        return joined("*", 5, number(depth - 1), number(depth - 1));
      case 4:
        return joined("/", 5, number(depth - 1), divisor());
      case 5:
        return negated(number(depth - 1));
      case 6:
        return called("abs", {number(depth - 1)});
      case 7:
        return called(one_in(2) ? "min" : "max",
                      {number(depth - 1), number(depth - 1), number(depth - 1)});
      default:
        return chosen(condition(2), number(depth - 1), number(depth - 1));
    }
  }

 private:
  std::size_t pick(std::size_t below) { return static_cast<std::size_t>(random_() % below); }
  bool one_in(std::size_t count) { return pick(count) == 0; }

  Written literal() {
    const auto whole = std::to_string(pick(40));
    switch (pick(4)) {
      case 0:
        return {whole, whole};
      case 1:
        return {whole + ".125", whole + ".125"};
      case 2:
        return {whole + ".5e1", whole + ".5e1"};
      default: {
        const std::string point = std::to_string(1 + pick(99)).insert(0, 1, '.');
        return {point, '0' + point};
      }
    }
  }

  /// A multiple of an eighth, so that sums and products of a few are exact.
  Written eighths() {
    static const std::vector<std::string> parts = {"", ".5", ".25", ".125", ".75", ".875"};
    const std::string text = std::to_string(pick(9)) + parts[pick(parts.size())];
    return {text, text};
  }

  Written exact(int depth) {
    if (depth == 0 || one_in(3)) return eighths();
    if (one_in(5)) return negated(exact(depth - 1));
    if (one_in(2)) return joined("*", 5, exact(depth - 1), exact(depth - 1));
    return joined(one_in(2) ? "+" : "-", 4, exact(depth - 1), exact(depth - 1));
  }

  Written divisor() {
    const std::string text = std::to_string(1 + pick(16));
    if (one_in(2)) return {text, text};
    return in_parentheses(joined("+", 4, called("abs", {exact(1)}), {text, text}));
  }

  Written condition(int depth) {
    if (depth == 0 || one_in(3)) {
      static const std::vector<std::string> signs = {"<", "<=", ">", ">=", "==", "!="};
      return joined(signs[pick(signs.size())], 3, exact(2), exact(2));
    }
    if (one_in(4)) {
      const Written inner = in_parentheses(condition(depth - 1));
      return in_parentheses({"not " + inner.ours, inner.theirs + " == 0"});
    }
    const Written left = condition(depth - 1);
    const Written right = condition(depth - 1);
    if (one_in(2)) return joined("and", "&&", 2, left, right);
    return joined("or", "||", 1, left, right);
  }

  Written joined(const std::string& sign, int binding, const Written& left, const Written& right) {
    return joined(sign, sign, binding, left, right);
  }

  /// Both read from left to right, so the right side needs parentheses already when it binds as
  /// strongly.
  Written joined(const std::string& ours, const std::string& theirs, int binding, Written left,
                 Written right) {
    if (left.binding < binding) left = in_parentheses(left);
    if (right.binding <= binding) right = in_parentheses(right);
    const std::string space(one_in(3) && binding > 2 ? 0 : 1, ' ');
    return {left.ours + space + ours + space + right.ours,
            left.theirs + ' ' + theirs + ' ' + right.theirs, binding};
  }

  /// Chains of minus signs: --3. Theirs needs parentheses between two signs.
  Written negated(Written inner) {
    if (inner.binding < 6) inner = in_parentheses(inner);
    std::string ours = "-";
    std::string theirs = "-";
    std::string close;
    const bool chain = inner.theirs.front() == '-';
    if (chain) inner.theirs = in_parentheses(inner).theirs;
    while (one_in(3)) {
      ours += "-";
      theirs += "(-";
      close += ")";
    }
    return {ours.append(inner.ours), theirs.append(inner.theirs).append(close), 6};
  }

  static Written called(const std::string& word, const std::vector<Written>& arguments) {
    std::vector<std::string> ours;
    std::vector<std::string> theirs;
    for (const Written& argument : arguments) {
      ours.push_back(argument.ours);
      theirs.push_back(argument.theirs);
    }
    return {word + "(" + join(ours, ", ") + ")", word + "(" + join(theirs, ", ") + ")", 6};
  }

  static Written chosen(const Written& condition, const Written& yes, const Written& no) {
    return {"if(" + condition.ours + ", " + yes.ours + ", " + no.ours + ")",
            "((" + condition.theirs + ") ? (" + yes.theirs + ") : (" + no.theirs + "))", 6};
  }

  std::mt19937 random_;
};

double our_value(const std::string& expression) {
  double seen = std::nan("");
  Resolvers resolvers;
  resolvers.question = [&](std::string_view, std::span<const Quantity> arguments) {
    seen = arguments[0].value;
    return Lookup::of(0.0, dimension::none);
  };
  const auto document = load("[values]\nx = \"probe(" + expression + ")\"");
  Evaluator evaluator(document.value, std::move(resolvers));
  evaluator.check_values();
  CAPTURE(words(document.findings), words(evaluator.findings()));
  REQUIRE(document.findings.empty());
  REQUIRE(evaluator.findings().empty());
  return seen;
}

double their_value(const std::string& expression) {
  try {
    mu::Parser parser;
    parser.SetExpr(expression);
    return parser.Eval();
  } catch (const mu::Parser::exception_type& error) {  // no std::exception
    FAIL(error.GetMsg() << ": " << expression);
    return 0.0;
  }
}

}  // namespace

TEST_CASE("random expressions have the values that muParser gives them",
          "[spec][expression][outside]") {
  constexpr int kExpressions = 10'000;
  std::size_t chains = 0;
  for (int i = 0; i < kExpressions; ++i) {
    const Written written = Author(static_cast<unsigned>(i)).number(4);
    chains += written.ours.find("--") != std::string::npos ? 1 : 0;
    const double ours = our_value(written.ours);
    const double theirs = their_value(written.theirs);
    if (ours == Approx(theirs).epsilon(1e-12).margin(1e-12)) continue;
    CAPTURE(i, written.ours, written.theirs);
    CHECK(ours == theirs);
  }
  CHECK(chains > 100);
}

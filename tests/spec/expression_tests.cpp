#include "files.hpp"

#include <cmath>

using namespace ribbay;

namespace {

/// `expression` as an entry of [values], beside a few others.
struct Computed {
  std::optional<double> value;
  Findings faults;
};

Computed compute(const std::string& expression, Dimension dimension = {}) {
  const auto document =
      load("[values]\nten = 10\nlining = \"9 mm\"\nzero = 0\n[t]\nx = '''" + expression + "'''\n");
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, thing_resolvers());
  evaluator.declare("t", std::make_shared<const Schema>(Schema{
                             "t",
                             "",
                             {quantity_field("x", dimension), length_field("y").otherwise("7 mm"),
                              flag_field("wide").otherwise("true")}}));
  Computed result;
  result.value = evaluator.number("t", "x");
  result.faults = evaluator.findings();
  return result;
}

struct Row {
  const char* expression;
  double expected;
};

}  // namespace

TEST_CASE("plain numbers are computed by the usual rules", "[spec][expression]") {
  const auto row = GENERATE(values<Row>({
      {"1 + 2 * 3", 7},
      {"(1 + 2) * 3", 9},
      {"10 - 4 - 3", 3},
      {"24 / 4 / 2", 3},
      {"2 * -3", -6},
      {"-2 * -3", 6},
      {"- (2 + 3)", -5},
      {"--3", 3},
      {"3 - -2", 5},
      {"+4", 4},
      {"1/2", 0.5},
      {"6 / 3", 2},
      {"ten / 4", 2.5},
      {"min(3, 1, 2)", 1},
      {"max(3, 1, 2)", 3},
      {"min(4)", 4},
      {"abs(-3.5)", 3.5},
      {"floor(2.7)", 2},
      {"floor(-2.2)", -3},
      {"ceil(2.1)", 3},
      {"ceil(-2.7)", -2},
      {"round(2.5)", 3},
      {"round(-2.4)", -2},
      {"floor(0.3 / 0.1)", 3},
      {"ceil(0.3 / 0.1)", 3},
      {"clamp(5, 1, 3)", 3},
      {"clamp(0, 1, 3)", 1},
      {"clamp(2, 1, 3)", 2},
      {"if(1 < 2, 10, 20)", 10},
      {"if(1 > 2, 10, 20)", 20},
      {"if(1 < 2 and 2 < 1, 10, 20)", 20},
      {"if(1 < 2 or 2 < 1, 10, 20)", 10},
      {"if(not 1 < 2, 10, 20)", 20},
      {"if(not (1 < 2) or 3 >= 3, 10, 20)", 10},
      {"if(2 < 1 and 2 < 1 or 1 < 2, 10, 20)", 10},
      {"if(1 < 2 or 1 < 2 and 2 < 1, 10, 20)", 10},
      {"if(1 <= 1, 1, 0) + if(1 != 1, 1, 0) + if(1 == 1, 1, 0)", 2},
      {"9 mm / lining", 1},
      {"1 in / 1 mm", 25.4},
      {"100 * 50 %", 50},
      {"if(self.wide, 1, 0)", 1},
      {"3 * 0.1 m / 1 mm", 300},
  }));
  CAPTURE(row.expression);
  const Computed computed = compute(row.expression);
  CAPTURE(words(computed.faults));
  REQUIRE(computed.value);
  CHECK(*computed.value == Approx(row.expected).epsilon(1e-15).margin(1e-15));
}

TEST_CASE("lengths keep their dimension through a computation", "[spec][expression]") {
  const auto row = GENERATE(values<Row>({
      {"vehicle.width - 2 * lining", 1782},
      {"lining + 1 in", 34.4},
      {"2 * (lining + 1 mm)", 20},
      {"min(lining, 1 in)", 9},
      {"if(lining > 8 mm, 3 mm, 4 mm)", 3},
      {"if(3 * 0.1 m == 300 mm, 1 mm, 2 mm)", 1},
      {"floor(vehicle.width, 7 mm)", 1799},
      {"ceil(vehicle.width, 7 mm)", 1806},
      {"round(vehicle.width / 7, 1 mm)", 257},
      {"clear_width(45 mm) + lining", 99},
      {"self.y + 1 mm", 8},
      {"t.y", 7},
      {"values.lining", 9},
      {"6 mm2 / 2 mm", 3},
      {"10 N m / 5 N", 2000},
      {"3 ft 2 1/2 in - 1/2 in", 965.2},
      {"9 mm + if(lining > 1 in, 1 mm / zero, 1 mm)", 10},
  }));
  CAPTURE(row.expression);
  const Computed computed = compute(row.expression, dimension::length);
  CAPTURE(words(computed.faults));
  REQUIRE(computed.value);
  CHECK(*computed.value == Approx(row.expected).epsilon(1e-15).margin(0));
}

TEST_CASE("arithmetic faults where the value does not count are no faults", "[spec][expression]") {
  const auto expression =
      GENERATE(as<std::string>(), "if(zero == 0, 1, 1 / zero)", "if(zero > 0, 1 / zero, 1)",
               "if(zero > 0 and 1 / zero > 2, 3, 1)", "if(zero == 0 or 1 / zero > 2, 1, 3)",
               "if(zero > 0, clamp(1, 3, 2) + 1e308 * 10, 1)",
               "if(zero > 0, if(1 / zero > 1, 1 / zero, 2), 1)");
  CAPTURE(expression);
  const Computed computed = compute(expression);
  CAPTURE(words(computed.faults));
  REQUIRE(computed.value);
  CHECK(*computed.value == 1.0);
}

TEST_CASE("other faults are told on both sides of a choice", "[spec][expression]") {
  struct Case {
    const char* expression;
    const char* code;
  };
  const auto row = GENERATE(values<Case>({
      {"if(zero == 0, 1, nobody)", "expression.unknown_name"},
      {"if(zero == 0, 1, 3 mm)", "expression.dimensions_differ"},
      {"if(zero == 0, 1, 3 kg + 2 mm)", "expression.dimensions_differ"},
      {"if(zero == 0 or nobody > 1, 1, 2)", "expression.unknown_name"},
      {"if(zero == 0, 1 / zero, 2)", "expression.division_by_zero"},
  }));
  CAPTURE(row.expression);
  const Computed computed = compute(row.expression);
  CHECK_FALSE(computed.value);
  REQUIRE(computed.faults.size() == 1);
  CHECK(computed.faults[0].code == row.code);
}

TEST_CASE("several faults of one expression are told together, each at its column",
          "[spec][expression]") {
  const auto document = load("[values]\na = \"nobody + 2 * noone\"");
  const Findings faults = faults_of(document);
  REQUIRE(faults.size() == 2);
  CHECK(faults[0].place->column == 6);
  CHECK(faults[1].place->column == 19);
}

TEST_CASE("a column inside a text counts escapes and lines as they are written",
          "[spec][expression]") {
  struct Case {
    const char* name;
    std::string text;
    int line;
    int column;
  };
  const auto row = GENERATE(values<Case>({
      {"plain", "[values]\na = \"1 + nobody\"", 2, 10},
      {"literal quotes", "[values]\na = '1 + nobody'", 2, 10},
      {"indented, two spaces", "[values]\n  a   =   \"1 + nobody\"", 2, 16},
      {"a tab is one character", "[values]\n\ta = \"1 + nobody\"", 2, 11},
      {"wide characters before it",
       "[values]\n\"\xC3\xA9\xC3\xA9\" = 1 # \xF0\x9F\x98\x80\nb = \"1\xC2\xB0 + nobody\"", 3, 11},
      {"an escape before it", "[values]\na = \"1\\u00B0 + nobody\"", 2, 16},
      {"a tab escape before it", "[values]\na = \"1 +\\tnobody\"", 2, 11},
      {"three quotes", "[values]\na = \"\"\"1 + nobody\"\"\"", 2, 12},
      {"second line of three quotes", "[values]\na = \"\"\"1 +\n  nobody\"\"\"", 3, 3},
      {"starting below three quotes", "[values]\na = '''\n1 +\n nobody'''", 4, 2},
      {"carriage returns", "[values]\r\na = 1\r\nb = \"1 + nobody\"\r\n", 3, 10},
      {"byte order mark", "\xEF\xBB\xBF[values]\na = \"1 + nobody\"", 2, 10},
      {"byte order mark on its line", "\xEF\xBB\xBFvalues.a = \"1 + nobody\"", 1, 17},
      {"inside an inline table", "values = { a = 1, b = \"1 + nobody\" }", 1, 28},
  }));
  CAPTURE(row.name);
  Findings faults = faults_of(load(row.text));
  std::erase_if(faults, [](const Finding& f) { return f.code != "expression.unknown_name"; });
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].place->line == row.line);
  CHECK(faults[0].place->column == row.column);
}

TEST_CASE("hostile expressions end in one fault each", "[spec][expression][hostile]") {
  const std::string deep(4000, '(');
  std::string sum = "1";
  for (int i = 0; i < 1500; ++i) sum += "+1";
  CHECK(compute(sum).value == 1501.0);
  for (const std::string& text :
       {deep, std::string(4000, '-'), std::string("not ") + deep, std::string(4000, ','),
        std::string("min") + deep, sum + "+", std::string(2000, '.'), std::string("1//1"),
        std::string("if(if(if(if(")}) {
    CAPTURE(text.substr(0, 40));
    const Computed computed = compute(text);
    CHECK_FALSE(computed.value);
    CHECK(computed.faults.size() == 1);
  }
}

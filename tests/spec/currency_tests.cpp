#include "files.hpp"
#include "spec/currency.hpp"

#include <fstream>
#include <set>
#include <sstream>

using namespace ribbay;

namespace {

SchemaPtr priced() {
  static const SchemaPtr schema = std::make_shared<const Schema>(
      Schema{"priced", "", {quantity_field("price", dimension::money).at_least(0)}});
  return schema;
}

Findings faults_of_money(const std::string& text, const std::string& currency) {
  const auto document = load(text);
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, {});
  if (!currency.empty()) evaluator.use_currency(currency);
  evaluator.declare("t", priced());
  (void)evaluator.record("t");
  evaluator.check_values();
  return evaluator.findings();
}

}  // namespace

TEST_CASE("money is told in the currency of the project, and in no other", "[spec][currency]") {
  CHECK(faults_of_money("[t]\nprice = \"3 * 4.50 CHF\"", "CHF").empty());
  CHECK(faults_of_money("[t]\nprice = 12.5", "CHF").empty());

  const Findings faults = faults_of_money("[values]\na = 1\n[t]\nprice = \"49.90 USD\"", "EUR");
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].code == "expression.other_currency");
  CHECK(faults[0].place == Place{"t.toml", 4, 16, "\"49.90 USD\""});
  CHECK(message_text(faults[0], LengthStyle::millimetres) ==
        "'USD' is another currency; this project counts in EUR");
  CHECK_THAT(advice_text(faults[0], LengthStyle::millimetres),
             Catch::Contains("write the amount in EUR"));
}

TEST_CASE("while no currency is told, a document may have one", "[spec][currency]") {
  CHECK(faults_of_money("[values]\na = \"1 CAD\"\nb = \"a + 2 CAD\"", "").empty());
  const Findings faults =
      faults_of_money("[values]\na = \"1 CAD\"\nb = \"2 AUD\"\nc = \"3 CAD + 1 AUD\"", "");
  REQUIRE(codes(faults) ==
          std::vector<std::string>{"expression.other_currency", "expression.other_currency"});
  CHECK(faults[0].place->line == 3);
  CHECK(faults[1].place->line == 4);
}

TEST_CASE("messages about money name its currency", "[spec][currency]") {
  const Findings below = faults_of_money("[t]\nprice = \"3 NOK - 5 NOK\"", "NOK");
  REQUIRE(below.size() == 1);
  CHECK(message_text(below[0], LengthStyle::millimetres) ==
        "t.price is -2 NOK and must be at least 0 NOK");
  const Findings mixed = faults_of_money("[values]\na = \"9 NOK + 3\"", "NOK");
  REQUIRE(mixed.size() == 1);
  CHECK_THAT(advice_text(mixed[0], LengthStyle::millimetres), Catch::Contains("write 3 NOK"));
  const Findings bare = faults_of_money("[values]\na = 9\n[t]\nprice = \"a\"", "NOK");
  REQUIRE(bare.size() == 1);
  CHECK(advice_text(bare[0], LengthStyle::millimetres) == "write a = \"9 NOK\"");
}

// ISO 4217 as Debian's package iso-codes carries it. Codes that name no money to pay with stand
// aside: metals, bond units, special drawing rights, tests, funds and accounting units (names of
// ISO 4217, list one), and CUC, HRK, SLL and VED, which were withdrawn or stand beside another.
TEST_CASE("the codes of currencies are those of ISO 4217", "[spec][currency][outside]") {
  const std::set<std::string> aside = {
      "XAG", "XAU", "XPD", "XPT", "XBA", "XBB", "XBC", "XBD", "XDR", "XSU", "XUA", "XTS", "XXX",
      "BOV", "CHE", "CHW", "CLF", "COU", "MXV", "USN", "UYI", "UYW", "CUC", "HRK", "SLL", "VED"};
  std::ifstream file("/usr/share/iso-codes/json/iso_4217.json");
  REQUIRE(file);
  std::stringstream text;
  text << file.rdbuf();
  const std::string list = text.str();
  std::set<std::string> listed;
  const std::string key = "\"alpha_3\": \"";
  for (auto at = list.find(key); at != std::string::npos; at = list.find(key, at + 1)) {
    listed.insert(list.substr(at + key.size(), 3));
  }
  REQUIRE(listed.size() > 170);
  for (char a = 'A'; a <= 'Z'; ++a) {
    for (char b = 'A'; b <= 'Z'; ++b) {
      for (char c = 'A'; c <= 'Z'; ++c) {
        const std::string code = {a, b, c};
        const bool expected = listed.contains(code) && !aside.contains(code);
        if (is_currency(code) != expected) FAIL_CHECK(code << " should be " << expected);
      }
    }
  }
  CHECK_FALSE(is_currency("eur"));
  CHECK_FALSE(is_currency("EU"));
  CHECK_FALSE(is_currency("R U"));
}

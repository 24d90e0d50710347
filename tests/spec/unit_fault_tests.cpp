#include "files.hpp"
#include "unit_fault_table.hpp"

namespace ribbay {

// Each rule of units, quantities and readings broken once: the whole message, the whole advice and
// the column. A file that follows the advice has no faults.

const std::vector<UnitFaultRow>& unit_fault_rows() {
  static const std::vector<UnitFaultRow> all = {
      {"12 gal", "expression.ambiguous_unit", 11, "'gal' is not one unit but several",
       "write us_gal (US liquid gallon, 3.785 l) or imp_gal (imperial gallon, 4.546 l)",
       "12 us_gal"},
      {"12 gallons / 2", "expression.ambiguous_unit", 11, "'gallons' is not one unit but several",
       "write us_gal (US liquid gallon, 3.785 l) or imp_gal (imperial gallon, 4.546 l)",
       "12 imp_gal / 2"},
      {"2 ton", "expression.ambiguous_unit", 10, "'ton' is not one unit but several",
       "write t (1000 kg), 2000 lb (short ton) or 2240 lb (long ton)", "2 t"},
      {"\xE2\x82\xAC 12", "expression.currency_sign", 8,
       "'\xE2\x82\xAC' cannot stand here: money is an amount and then the ISO 4217 code of its "
       "currency",
       "write it as 49.90 EUR", "12 EUR"},
      {"12 \xC2\xA3", "expression.currency_sign", 11,
       "'\xC2\xA3' cannot stand here: money is an amount and then the ISO 4217 code of its "
       "currency",
       "write it as 49.90 GBP", "12 GBP"},
      {"3 AUD + $ 12", "expression.currency_sign", 16,
       "'$' cannot stand here: money is an amount and then the ISO 4217 code of its currency",
       "write it as 49.90 AUD", "3 AUD + 12 AUD"},
      {"CHF 12", "expression.currency_sign", 8,
       "'CHF' cannot stand here: money is an amount and then the ISO 4217 code of its currency",
       "write it as 49.90 CHF", "12 CHF"},
      {"3'-2 1/2\"", "expression.dash_after_feet", 8,
       "'3'-2 1/2\"' can be read as one length or as a difference of two",
       "write 3' 2 1/2\" for the length, 3' - 2 1/2\" for the difference", "3' 2 1/2\""},
      {"3 ft-2 in", "expression.dash_after_feet", 8,
       "'3 ft-2 in' can be read as one length or as a difference of two",
       "write 3 ft 2 in for the length, 3 ft - 2 in for the difference", "3 ft - 2 in"},
      {"1/2' -1/4\"", "expression.dash_after_feet", 8,
       "'1/2' -1/4\"' can be read as one length or as a difference of two",
       "write 1/2' 1/4\" for the length, 1/2' - 1/4\" for the difference", "1/2' - 1/4\""},
      {"2-1/2 in", "expression.dash_in_fraction", 8, "'2-1/2 in' has a dash inside its number",
       "write 2 1/2 in", "2 1/2 in"},
      {"3' 2-1/2\"", "expression.dash_in_fraction", 11, "'2-1/2\"' has a dash inside its number",
       "write 2 1/2\"", "3' 2 1/2\""},
      {"10 lb ft", "expression.mass_for_force", 11,
       "'lb ft' joins a mass and a length; a torque is a force times a length", "write lbf ft",
       "10 lbf ft"},
      {"10 ft-lb", "expression.mass_for_force", 11,
       "'ft-lb' joins a mass and a length; a torque is a force times a length", "write ft lbf",
       "10 ft lbf"},
      {"2 kg m", "expression.mass_for_force", 10,
       "'kg m' joins a mass and a length; a torque is a force times a length", "write kgf m",
       "2 kgf m"},
      {"2 oz in", "expression.mass_for_force", 10,
       "'oz in' joins a mass and a length; a torque is a force times a length", ""},
      {"1 EUR + 2 USD", "expression.other_currency", 18,
       "'USD' is another currency; this project counts in EUR",
       "write the amount in EUR, converted at a rate that you state in a remark",
       "1 EUR + 1.90 EUR"},
      {"20 degC + 10 degC", "expression.temperature_reading", 8,
       "'20 degC + 10 degC' is a temperature read on a scale, and such a reading has no sum, "
       "multiple or opposite",
       "write a difference of temperatures in K, as in 20 degC + 15 K", "20 degC + 10 K"},
      {"2 * 20 degC", "expression.temperature_reading", 12,
       "'20 degC' is a temperature read on a scale, and such a reading has no sum, multiple or "
       "opposite",
       "write a difference of temperatures in K, as in 20 degC + 15 K", "2 * 20 K"},
      {"-(20 degF)", "expression.temperature_reading", 9,
       "'(20 degF)' is a temperature read on a scale, and such a reading has no sum, multiple or "
       "opposite",
       "write a difference of temperatures in K, as in 20 degC + 15 K", "-(20 K)"},
      {"round(20 degC, 5 K)", "expression.temperature_reading", 14,
       "'20 degC' is a temperature read on a scale, and such a reading has no sum, multiple or "
       "opposite",
       "write a difference of temperatures in K, as in 20 degC + 15 K", "round(20 K, 5 K)"},
      {"20 degC + 3", "expression.dimensions_differ", 18,
       "+ needs the same kind on both sides, and here are temperature and plain number",
       "a number without unit is a plain number in an expression: write 3 K, or the unit meant",
       "20 degC + 3 K"},
      {"20 degC 3 degF", "expression.unit_order", 8,
       "'20 degC 3 degF' joins units that do not belong together",
       "join units of one kind, the larger first, as in 3 ft 2 1/2 in; or put an operator between "
       "them"},
      {"20 C", "expression.unknown_unit", 11,
       "'C' is no unit; to multiply by a value of that name, write * before it", "write degC",
       "20 degC"},
      {"12 eur", "expression.unknown_unit", 11,
       "'eur' is no unit; to multiply by a value of that name, write * before it", "write EUR",
       "12 EUR"},
      {"3' 2", "expression.unit_missing", 11, "'2' has no unit, and the part before it has one",
       "give it a unit, as in 3 ft 2 1/2 in", "3' 2\""},
      {"3' 6'", "expression.unit_order", 8, "'3' 6'' joins units that do not belong together",
       "join units of one kind, the larger first, as in 3 ft 2 1/2 in; or put an operator between "
       "them",
       "3' 6\""},
      {"45\xC2\xB0 30'", "expression.unit_order", 8,
       "'45\xC2\xB0 30'' joins units that do not belong together",
       "join units of one kind, the larger first, as in 3 ft 2 1/2 in; or put an operator between "
       "them",
       "45.5\xC2\xB0"},
      {"23 5/8'' + 1 in", "expression.bad_character", 15, "''' does not belong in an expression",
       "use + - * / ( ) , < <= > >= == != and or not, numbers, units and names; ' and \" only "
       "right behind a number",
       "23 5/8\" + 1 in"},
      {"lining \"", "expression.bad_character", 15, "'\"' does not belong in an expression",
       "use + - * / ( ) , < <= > >= == != and or not, numbers, units and names; ' and \" only "
       "right behind a number",
       "lining"},
  };
  return all;
}

}  // namespace ribbay

using namespace ribbay;

namespace {

std::string file_of(const std::string& written) {
  return "[values]\nlining = \"9 mm\"\na = '''" + written + " '''\n";
}

}  // namespace

TEST_CASE("each rule of units is told in the words of its own row", "[spec][quantity][faults]") {
  for (const UnitFaultRow& row : unit_fault_rows()) {
    const Findings faults = faults_of(load(file_of(row.written)));
    CAPTURE(row.written, words(faults));
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].code == row.code);
    CHECK(faults[0].place->line == 3);
    CHECK(faults[0].place->column == row.column);
    CHECK(message_text(faults[0], LengthStyle::millimetres) == row.message);
    CHECK(advice_text(faults[0], LengthStyle::millimetres) == row.advice);
  }
}

TEST_CASE("a quantity that follows the advice has no faults", "[spec][quantity][faults]") {
  for (const UnitFaultRow& row : unit_fault_rows()) {
    if (row.mended.empty()) continue;
    const Findings faults = faults_of(load(file_of(row.mended)));
    CAPTURE(row.mended, words(faults));
    CHECK(faults.empty());
  }
}

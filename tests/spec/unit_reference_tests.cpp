#include "files.hpp"
#include "spec/vocabulary.hpp"

#include <cstdio>
#include <fstream>
#include <set>

using namespace ribbay;

// Every unit against GNU Units (Debian package units), whose table of definitions cites the
// international yard and pound agreement of 1959, NIST and the UK's Weights and Measures Act. One
// run answers all questions.

namespace {

struct Question {
  const char* ours;
  const char* theirs;
};

const std::vector<Question>& questions() {
  static const std::vector<Question> all = {
      {"mm", "mm"},
      {"cm", "cm"},
      {"m", "m"},
      {"um", "micron"},
      {"in", "inch"},
      {"inch", "inch"},
      {"inches", "inch"},
      {"\"", "inch"},
      {"\xE2\x80\xB3", "inch"},
      {"ft", "foot"},
      {"foot", "foot"},
      {"feet", "foot"},
      {"'", "foot"},
      {"\xE2\x80\xB2", "foot"},
      {"yd", "yard"},
      {"yard", "yard"},
      {"yards", "yard"},
      {"mm2", "mm^2"},
      {"cm2", "cm^2"},
      {"m2", "m^2"},
      {"in2", "inch^2"},
      {"ft2", "foot^2"},
      {"mm3", "mm^3"},
      {"cm3", "cm^3"},
      {"m3", "m^3"},
      {"in3", "inch^3"},
      {"ft3", "foot^3"},
      {"ml", "ml"},
      {"mL", "ml"},
      {"l", "liter"},
      {"L", "liter"},
      {"litre", "liter"},
      {"litres", "liter"},
      {"liter", "liter"},
      {"liters", "liter"},
      {"us_gal", "usgallon"},
      {"imp_gal", "brgallon"},
      {"kg", "kg"},
      {"g", "gram"},
      {"t", "tonne"},
      {"lb", "pound"},
      {"lbs", "pound"},
      {"oz", "ounce"},
      {"N", "newton"},
      {"daN", "10 newton"},
      {"kN", "kN"},
      {"lbf", "lbf"},
      {"kgf", "kgf"},
      {"Nm", "N m"},
      {"Nmm", "N mm"},
      {"Pa", "pascal"},
      {"kPa", "kPa"},
      {"MPa", "MPa"},
      {"GPa", "GPa"},
      {"bar", "bar"},
      {"mbar", "millibar"},
      {"psi", "psi"},
      {"ksi", "ksi"},
      {"deg", "degree"},
      {"\xC2\xB0", "degree"},
      {"rad", "radian"},
      {"s", "second"},
      {"min", "minute"},
      {"h", "hour"},
      {"day", "day"},
      {"days", "day"},
      {"K", "kelvin"},
      {"degC", "tempC(1)"},
      {"\xC2\xB0"
       "C",
       "tempC(1)"},
      {"degF", "tempF(1)"},
      {"\xC2\xB0"
       "F",
       "tempF(1)"},
      {"V", "volt"},
      {"mV", "mV"},
      {"A", "ampere"},
      {"mA", "mA"},
      {"Ah", "ampere hour"},
      {"mAh", "mA hour"},
      {"W", "watt"},
      {"kW", "kW"},
      {"Wh", "watt hour"},
      {"kWh", "kWh"},
      {"ohm", "ohm"},
      {"mohm", "milliohm"},
      {"%", "percent"},
      // joined ones
      {"N m", "N m"},
      {"N\xC2\xB7m", "N m"},
      {"lbf ft", "lbf foot"},
      {"ft lbf", "lbf foot"},
      {"lbf in", "lbf inch"},
      {"in lbf", "lbf inch"},
      {"kgf m", "kgf m"},
      {"N/mm2", "N/mm^2"},
      {"kg/m3", "kg/m^3"},
      {"kg/m\xC2\xB3", "kg/m^3"},
      {"lb/ft3", "pound/foot^3"},
      {"l/min", "liter/minute"},
      {"ft/s", "foot/second"},
  };
  return all;
}

/// What our canonical units are called there.
std::string canonical(Dimension d) {
  std::string text = "1";
  const auto add = [&](const char* unit, int power) {
    if (power != 0) text += std::string(" ") + unit + "^" + std::to_string(power);
  };
  add("mm", d.length);
  add("kg", d.mass);
  add("newton", d.force);
  add("radian", d.angle);
  add("second", d.time);
  add("kelvin", d.temperature);
  add("volt", d.volt);
  add("ampere", d.ampere);
  return text;
}

/// Our value of one unit, in canonical units.
Quantity one(const std::string& unit) {
  const auto document = load("[values]\nx = '''1 " + unit + "'''");
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, {});
  const auto origin = evaluator.origin("values.x");
  CAPTURE(unit, words(evaluator.findings()));
  REQUIRE(origin);
  REQUIRE(origin->value);
  return *origin->value;
}

/// The program's answers, one for each pair of lines of the file.
std::vector<double> answers(const std::string& file) {
  const std::string command = "units --terse --output-format %.17g < '" + file + "' 2>&1";
  std::vector<double> numbers;
  FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  char line[256];
  while (std::fgets(line, sizeof line, pipe) != nullptr) numbers.push_back(std::atof(line));
  REQUIRE(pclose(pipe) == 0);
  return numbers;
}

}  // namespace

TEST_CASE("every unit of the table is asked about", "[spec][quantity][outside]") {
  std::set<std::string> asked;
  for (const Question& question : questions()) asked.insert(question.ours);
  for (const ListedUnit& unit : listed_units()) {
    CAPTURE(unit.name);
    CHECK(asked.contains(unit.name));
  }
}

TEST_CASE("every unit has the size that GNU Units gives it", "[spec][quantity][outside]") {
  const std::string file = std::string(RIBBAY_BINARY_DIR) + "/units_asked.txt";
  std::vector<double> ours;
  std::ofstream out(file);
  for (const Question& question : questions()) {
    const Quantity quantity = one(question.ours);
    ours.push_back(quantity.value);
    out << question.theirs << "\n" << canonical(quantity.dimension) << "\n";
  }
  out.close();
  const std::vector<double> theirs = answers(file);
  REQUIRE(theirs.size() == ours.size());
  for (std::size_t i = 0; i < ours.size(); ++i) {
    CAPTURE(questions()[i].ours, questions()[i].theirs);
    CHECK(ours[i] == Approx(theirs[i]).epsilon(1e-15).margin(0));
  }
}

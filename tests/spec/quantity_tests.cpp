#include "files.hpp"

#include <cmath>
#include <limits>
#include <numbers>

using namespace ribbay;

namespace {

/// A number field of a given dimension that holds `written`.
std::optional<double> read(const std::string& written, Dimension dimension,
                           Findings* faults = nullptr) {
  const auto document = load("[t]\nx = " + written + "\n");
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, thing_resolvers());
  evaluator.declare(
      "t", std::make_shared<const Schema>(Schema{"t", "", {quantity_field("x", dimension)}}));
  const auto value = evaluator.number("t", "x");
  if (faults != nullptr) *faults = evaluator.findings();
  return value;
}

struct Row {
  const char* written;
  Dimension dimension;
  double expected;
};

}  // namespace

// Source of the exact factors: international yard and pound agreement of 1959 (1 in = 25.4 mm,
// 1 lb = 0.45359237 kg); standard acceleration of free fall 9.80665 m/s2 (3rd CGPM, 1901; ISO
// 80000-3), so 1 lbf = 0.45359237 * 9.80665 N = 4.4482216152605 N. SI prefixes, litre, tonne, bar,
// hour: SI Brochure, 9th edition, tables 7 and 8.
TEST_CASE("quantities are read by the exact definitions of their units", "[spec][quantity]") {
  namespace d = dimension;
  const auto row = GENERATE(values<Row>({
      {"\"19 mm\"", d::length, 19.0},
      {"\"2 m\"", d::length, 2000.0},
      {"\"4.5 cm\"", d::length, 45.0},
      {"\"1 in\"", d::length, 25.4},
      {"\"1 ft\"", d::length, 304.8},
      {"\"23 5/8 in\"", d::length, 600.075},
      {"\"5/8 in\"", d::length, 15.875},
      {"\"3 ft 2 1/2 in\"", d::length, 977.9},
      {"\"-3 ft 2 1/2 in\"", d::length, -977.9},
      {"\"22 1/16 in\"", d::length, 560.3875},
      {"\"2 m 40 cm 5 mm\"", d::length, 2405.0},
      {"\"1e3 mm\"", d::length, 1000.0},
      {"\".5 in\"", d::length, 12.7},
      {"\"520mm\"", d::length, 520.0},
      {"\"12.5 kg\"", d::mass, 12.5},
      {"\"27 lb\"", d::mass, 12.24699399},
      {"\"1 lb 8 oz\"", d::mass, 0.680388555},
      {"\"250 g\"", d::mass, 0.25},
      {"\"2 t\"", d::mass, 2000.0},
      {"\"40 N\"", d::force, 40.0},
      {"\"15 lbf\"", d::force, 66.7233242289075},
      {"\"2 kN\"", d::force, 2000.0},
      {"\"1 kgf\"", d::force, 9.80665},
      {"\"10 N m\"", d::torque, 10000.0},
      {"\"10 Nm\"", d::torque, 10000.0},
      {"\"3 N mm\"", d::torque, 3.0},
      {"\"1 lbf in\"", d::torque, 4.4482216152605 * 25.4},
      {"\"240 MPa\"", d::stress, 240.0},
      {"\"70 GPa\"", d::stress, 70000.0},
      {"\"1 N/mm2\"", d::stress, 1.0},
      {"\"2 bar\"", d::stress, 0.2},
      {"\"1 psi\"", d::stress, 4.4482216152605 / 645.16},
      {"\"45 deg\"", d::angle, std::numbers::pi / 4},
      {"\"90\xC2\xB0\"", d::angle, std::numbers::pi / 2},
      {"\"1 rad\"", d::angle, 1.0},
      {"\"2 h\"", d::time, 7200.0},
      {"\"1 h 30 min\"", d::time, 5400.0},
      {"\"20 degC\"", d::temperature, 293.15},
      {"\"-20 degC\"", d::temperature, 253.15},
      {"\"30 degC - 20 degC\"", d::temperature, 10.0},
      {"\"12 V\"", d::volt, 12.0},
      {"\"500 mA\"", d::ampere, 0.5},
      {"\"12 V * 10 A\"", d::watt, 120.0},
      {"\"60 W / 12 V\"", d::ampere, 5.0},
      {"\"100 Ah * 12 V / 1 h\"", d::watt, 1200.0},
      {"\"50 l\"", d::volume, 5e7},
      {"\"1 litre\"", d::volume, 1e6},
      {"\"1 m3\"", d::volume, 1e9},
      {"\"1 in2\"", d::area, 645.16},
      {"\"2700 kg/m3\"", d::density, 2.7e-6},
      {"\"2.7 g/cm3\"", d::density, 2.7e-6},
      {"\"50 %\"", d::none, 0.5},
      // feet and inches as drawings write them
      {"\"3'\"", d::length, 914.4},
      {"'23 5/8\"'", d::length, 600.075},
      {"'5/8\"'", d::length, 15.875},
      {"'''3' 2 1/2\"'''", d::length, 977.9},
      {"'''3'2\"'''", d::length, 965.2},
      {"'''-3' 2 1/2\"'''", d::length, -977.9},
      {"\"3' - 2 in\"", d::length, 863.6},
      {"\"2 1/2'\"", d::length, 762.0},
      {"\"3 ft 2\\\"\"", d::length, 965.2},
      {"\"3\xE2\x80\xB2 2 1/2\xE2\x80\xB3\"", d::length, 977.9},
      {"\"2 * 3' + 1 in\"", d::length, 1854.2},
      {"\"clear_width(1', 2')\"", d::length, 609.6},
      {"\"2 yd 1 ft\"", d::length, 2133.6},
      // torque in either order, and with the point of the standards
      {"\"1 in lbf\"", d::torque, 4.4482216152605 * 25.4},
      {"\"1 ft lbf\"", d::torque, 4.4482216152605 * 304.8},
      {"\"10 N\xC2\xB7m\"", d::torque, 10000.0},
      {"\"1 kgf cm\"", d::torque, 98.0665},
      // gallons: 231 in3 (NIST Handbook 44, appendix C), 4.546 09 l (UK Weights and Measures Act)
      {"\"1 us_gal\"", d::volume, 3785411.784},
      {"\"10 imp_gal\"", d::volume, 45460900.0},
      {"\"700 kg/m\xC2\xB3\"", d::density, 7e-7},
      // temperatures: readings and differences
      {"\"68 degF\"", d::temperature, 293.15},
      {"\"-40 degF\"", d::temperature, 233.15},
      {"\"20 \xC2\xB0"
       "C\"",
       d::temperature, 293.15},
      {"\"20 degC + 15 K\"", d::temperature, 308.15},
      {"\"15 K + 20 degC\"", d::temperature, 308.15},
      {"\"20 degC - 15 K\"", d::temperature, 278.15},
      {"\"50 degF - 41 degF\"", d::temperature, 5.0},
      {"\"(30 degC - 20 degC) * 2\"", d::temperature, 20.0},
      {"\"max(20 degC, 68 degF)\"", d::temperature, 293.15},
      {"\"if(30 degC > 80 degF, 30 degC, 80 degF)\"", d::temperature, 303.15},
      // electricity
      {"\"100 Ah\"", d::charge, 360000.0},
      {"\"1.2 kWh\"", d::energy, 4320000.0},
      {"\"100 Ah * 12.8 V\"", d::energy, 4608000.0},
      {"\"12 V / 5 A\"", d::resistance, 2.4},
      {"\"5 mohm * 20 A\"", d::volt, 0.1},
      {"\"3 days\"", d::time, 259200.0},
      {"\"49.90 EUR\"", d::money, 49.90},
      {"\"3 * 12.50 EUR/m * 2 m\"", d::money, 75.0},
      {"\"250 daN\"", d::force, 2500.0},
      {"\"1/2\"", d::none, 0.5},
  }));
  CAPTURE(row.written);
  Findings faults;
  const auto value = read(row.written, row.dimension, &faults);
  CAPTURE(words(faults));
  REQUIRE(value);
  // One rounding per conversion and sum: a few units in the last place.
  CHECK(*value == Approx(row.expected).epsilon(4e-16).margin(0));
}

TEST_CASE("inch, pound and pound-force are converted without any rounding of their own",
          "[spec][quantity]") {
  CHECK(read("\"1 in\"", dimension::length) == 25.4);
  CHECK(read("\"1 lb\"", dimension::mass) == 0.45359237);
  CHECK(read("\"1 lbf\"", dimension::force) == 4.4482216152605);
}

TEST_CASE("a bare number has the unit of its field, also in quotes", "[spec][quantity]") {
  namespace d = dimension;
  const auto row = GENERATE(values<Row>({
      {"480", d::length, 480.0},
      {"480.5", d::length, 480.5},
      {"-3", d::length, -3.0},
      {"\"480\"", d::length, 480.0},
      {"\" -4.5 \"", d::length, -4.5},
      {"90", d::angle, std::numbers::pi / 2},
      {"12", d::mass, 12.0},
      {"40", d::force, 40.0},
      {"2700", d::density, 2.7e-6},
      {"240", d::stress, 240.0},
      {"0.5", d::none, 0.5},
      {"20", d::temperature, 293.15},
      {"100", d::charge, 360000.0},
      {"2", d::energy, 7200.0},
      {"49.9", d::money, 49.9},
  }));
  CAPTURE(row.written);
  const auto value = read(row.written, row.dimension);
  REQUIRE(value);
  CHECK(*value == Approx(row.expected).epsilon(4e-16).margin(0));
}

TEST_CASE("what reads as half a quantity is refused", "[spec][quantity]") {
  const std::string written =
      GENERATE("\"23 5/8\"", "\"3 ft 2\"", "\"5 / 8 in\"", "\"12 5 in\"", "\"2 in 3 ft\"",
               "\"3 ft 2 kg\"", "\"mm\"", "\"3 x mm\"", "\"23 8/5 in\"", "\"1/0 in\"",
               "\"3 in in\"", "\"3' 2\"", "\"3 N kg\"");
  CAPTURE(written);
  Findings faults;
  CHECK_FALSE(read(written, dimension::length, &faults));
  CHECK(faults.size() == 1);
}

TEST_CASE("dimensions and their units have names", "[spec][quantity]") {
  CHECK(dimension_name(dimension::length) == "length");
  CHECK(dimension_name(dimension::stress) == "stress");
  CHECK(dimension_name(dimension::none) == "plain number");
  CHECK(dimension_name({.length = 4}) == "length^4");
  CHECK(dimension_name({.length = -1, .mass = 1}) == "mass length^-1");
  CHECK(bare_unit(dimension::angle) == "deg");
  CHECK(bare_unit(dimension::density) == "kg/m3");
  CHECK(bare_unit({.length = 4}) == "mm4");
  CHECK(bare_unit({.length = -1, .mass = 1}) == "kg/mm");
  CHECK(bare_unit({.temperature = -1}) == "1/K");
  CHECK(bare_unit(dimension::temperature) == "degC");
  CHECK(bare_unit(dimension::charge) == "Ah");
  CHECK(dimension_name(dimension::energy) == "energy");
  CHECK(dimension_name(dimension::money) == "money");
}

// One file in inches and its twin in millimetres: common practice, no source.
TEST_CASE("a file in inches reads to the values of the same file in millimetres",
          "[spec][quantity]") {
  const auto record = [](const std::string& fields) {
    const auto document = load("[thing]\n" + fields);
    Evaluator evaluator(document.value, thing_resolvers());
    evaluator.declare("thing", thing_schema(), "thing");
    const auto read = evaluator.record("thing");
    CAPTURE(words(evaluator.findings()));
    REQUIRE(read);
    return *read;
  };
  const Record inches = record(R"toml(
width = '''3' 2 1/2"'''
depth = '22 1/16"'
load = "27 lb 3 oz"
tank = "12 us_gal"
levels = ["0 in", '16 9/64"', "self.width - 1/32 in"]
bays = ["1 share", "1 ft 7 11/16 in"]
at = ["1 in", '2"', "-1/16 in"]
place = { gap = "vehicle.width / 4 - 1 yd / 12", on = "floor" }
)toml");
  const Record metric = record(R"toml(
width = "977.9 mm"
depth = 560.3875
load = "12.332042559375 kg"
tank = "45.424941408 l"
levels = [0, "409.971875 mm", "self.width - 0.79375 mm"]
bays = ["1 share", "50.00625 cm"]
at = [25.4, 50.8, -1.5875]
place = { gap = "373.8 mm", on = "floor" }
)toml");
  const auto same = [](double a, double b) { return a == Approx(b).epsilon(1e-12).margin(0); };
  for (const char* field : {"width", "depth", "load", "tank"}) {
    CAPTURE(field);
    CHECK(same(inches.number(field), metric.number(field)));
  }
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(same(inches.numbers("levels")[i], metric.numbers("levels")[i]));
  }
  CHECK(same(inches.sizes("bays")[1].mm, metric.sizes("bays")[1].mm));
  CHECK(same(inches.vec3("at").x, metric.vec3("at").x));
  CHECK(same(inches.vec3("at").z, metric.vec3("at").z));
  CHECK(same(inches.table("place").number("gap"), metric.table("place").number("gap")));
}

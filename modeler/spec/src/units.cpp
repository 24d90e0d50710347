#include "units.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numbers>
#include <optional>
#include <unordered_map>

namespace ribbay {

namespace {

// International yard and pound agreement of 1959, exact.
constexpr double kInch = 25.4;
constexpr double kFoot = 304.8;
constexpr double kYard = 914.4;
constexpr double kSquareInch = 645.16;
constexpr double kCubicInch = 16387.064;
constexpr double kPound = 0.45359237;
// Standard acceleration of free fall, 3rd CGPM (1901), ISO 80000-3; exact.
constexpr double kGravity = 9.80665;
constexpr double kPoundForce = 4.4482216152605;  // kPound * kGravity, exact in decimal
constexpr double kDegree = std::numbers::pi / 180.0;

constexpr double kHour = 3600.0;
// Zero of the Celsius scale (SI Brochure, 9th edition, 2.3.1) and of the Fahrenheit scale, in K.
constexpr double kCelsiusZero = 273.15;
constexpr double kFahrenheitZero = 459.67 * 5.0 / 9.0;

struct NamedDimension {
  Dimension dimension;
  std::string_view name;
  std::string_view bare;
  double factor = 1.0;
  double offset = 0.0;
};

constexpr std::array kNamed = {
    NamedDimension{dimension::none, "plain number", ""},
    NamedDimension{dimension::length, "length", "mm"},
    NamedDimension{dimension::area, "area", "mm2"},
    NamedDimension{dimension::volume, "volume", "mm3"},
    NamedDimension{dimension::mass, "mass", "kg"},
    NamedDimension{dimension::force, "force", "N"},
    NamedDimension{dimension::torque, "torque", "N mm"},
    NamedDimension{dimension::stress, "stress", "MPa"},
    NamedDimension{dimension::angle, "angle", "deg", kDegree},
    NamedDimension{dimension::time, "time", "s"},
    NamedDimension{dimension::temperature, "temperature", "degC", 1.0, kCelsiusZero},
    NamedDimension{dimension::volt, "voltage", "V"},
    NamedDimension{dimension::ampere, "current", "A"},
    NamedDimension{dimension::watt, "power", "W"},
    NamedDimension{dimension::resistance, "resistance", "ohm"},
    NamedDimension{dimension::charge, "electric charge", "Ah", kHour},
    NamedDimension{dimension::energy, "energy", "Wh", kHour},
    NamedDimension{dimension::money, "money", "currency units"},
    NamedDimension{dimension::density, "density", "kg/m3", 1e-9},
};

const NamedDimension* find_named(Dimension dimension) {
  const auto* const found = std::ranges::find(kNamed, dimension, &NamedDimension::dimension);
  return found == kNamed.end() ? nullptr : found;
}

struct Power {
  std::string_view name;
  std::string_view unit;
  std::int8_t power;
};

std::array<Power, 9> powers(Dimension d) {
  return {{{"mass", "kg", d.mass},
           {"force", "N", d.force},
           {"length", "mm", d.length},
           {"angle", "rad", d.angle},
           {"time", "s", d.time},
           {"temperature", "K", d.temperature},
           {"voltage", "V", d.volt},
           {"current", "A", d.ampere},
           {"money", "currency units", d.money}}};
}

}  // namespace

std::string dimension_name(Dimension dimension) {
  if (const NamedDimension* named = find_named(dimension)) return std::string(named->name);
  std::string text;
  for (const Power& p : powers(dimension)) {
    if (p.power == 0) continue;
    if (!text.empty()) text += " ";
    text += p.name;
    if (p.power != 1) text += "^" + std::to_string(p.power);
  }
  return text;
}

std::string bare_unit(Dimension dimension) {
  if (const NamedDimension* named = find_named(dimension)) return std::string(named->bare);
  std::string above;
  std::string below;
  for (const Power& p : powers(dimension)) {
    if (p.power == 0) continue;
    std::string& text = p.power > 0 ? above : below;
    if (!text.empty()) text += " ";
    text += p.unit;
    const int size = p.power > 0 ? p.power : -p.power;
    if (size != 1) text += std::to_string(size);
  }
  if (above.empty()) above = "1";
  return below.empty() ? above : above + "/" + below;
}

namespace detail {

namespace {

const std::vector<UnitName>& units() {
  namespace of = ribbay::dimension;
  static const std::vector<UnitName> table = {
      {"mm", 1.0, of::length},
      {"cm", 10.0, of::length},
      {"m", 1000.0, of::length},
      {"um", 0.001, of::length},
      {"in", kInch, of::length},
      {"inch", kInch, of::length},
      {"inches", kInch, of::length},
      {"\"", kInch, of::length},
      {"\xE2\x80\xB3", kInch, of::length},  // double prime
      {"ft", kFoot, of::length},
      {"foot", kFoot, of::length},
      {"feet", kFoot, of::length},
      {"'", kFoot, of::length},
      {"\xE2\x80\xB2", kFoot, of::length},  // prime
      {"yd", kYard, of::length},
      {"yard", kYard, of::length},
      {"yards", kYard, of::length},
      {"mm2", 1.0, of::area},
      {"cm2", 100.0, of::area},
      {"m2", 1e6, of::area},
      {"in2", kSquareInch, of::area},
      {"ft2", 92903.04, of::area},
      {"mm3", 1.0, of::volume},
      {"cm3", 1e3, of::volume},
      {"m3", 1e9, of::volume},
      {"in3", kCubicInch, of::volume},
      {"ft3", 28316846.592, of::volume},
      {"ml", 1e3, of::volume},
      {"mL", 1e3, of::volume},
      {"l", 1e6, of::volume},
      {"L", 1e6, of::volume},
      {"litre", 1e6, of::volume},
      {"litres", 1e6, of::volume},
      {"liter", 1e6, of::volume},
      {"liters", 1e6, of::volume},
      {"us_gal", 231.0 * kCubicInch, of::volume},
      {"imp_gal", 4546090.0, of::volume},
      {"kg", 1.0, of::mass},
      {"g", 1e-3, of::mass},
      {"t", 1e3, of::mass},
      {"lb", kPound, of::mass},
      {"lbs", kPound, of::mass},
      {"oz", kPound / 16.0, of::mass},
      {"N", 1.0, of::force},
      {"daN", 10.0, of::force},
      {"kN", 1e3, of::force},
      {"lbf", kPoundForce, of::force},
      {"kgf", kGravity, of::force},
      {"Nm", 1e3, of::torque},
      {"Nmm", 1.0, of::torque},
      {"Pa", 1e-6, of::stress},
      {"kPa", 1e-3, of::stress},
      {"MPa", 1.0, of::stress},
      {"GPa", 1e3, of::stress},
      {"bar", 0.1, of::stress},
      {"mbar", 1e-4, of::stress},
      {"psi", kPoundForce / kSquareInch, of::stress},
      {"ksi", 1e3 * kPoundForce / kSquareInch, of::stress},
      {"deg", kDegree, of::angle},
      {"\xC2\xB0", kDegree, of::angle},
      {"rad", 1.0, of::angle},
      {"s", 1.0, of::time},
      {"min", 60.0, of::time},
      {"h", kHour, of::time},
      {"day", 24.0 * kHour, of::time},
      {"days", 24.0 * kHour, of::time},
      {"K", 1.0, of::temperature},
      {"degC", 1.0, of::temperature, kCelsiusZero},
      {"\xC2\xB0"
       "C",
       1.0, of::temperature, kCelsiusZero},
      {"degF", 5.0 / 9.0, of::temperature, kFahrenheitZero},
      {"\xC2\xB0"
       "F",
       5.0 / 9.0, of::temperature, kFahrenheitZero},
      {"V", 1.0, of::volt},
      {"mV", 1e-3, of::volt},
      {"A", 1.0, of::ampere},
      {"mA", 1e-3, of::ampere},
      {"Ah", kHour, of::charge},
      {"mAh", 3.6, of::charge},
      {"W", 1.0, of::watt},
      {"kW", 1e3, of::watt},
      {"Wh", kHour, of::energy},
      {"kWh", 1e3 * kHour, of::energy},
      {"ohm", 1.0, of::resistance},
      {"mohm", 1e-3, of::resistance},
      {"%", 0.01, of::none},
  };
  return table;
}

/// "m\u00B3" as "m3".
std::string with_plain_digits(std::string_view name) {
  std::string plain;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const std::string_view rest = name.substr(i);
    const bool two = rest.starts_with("\xC2\xB2");
    const bool three = rest.starts_with("\xC2\xB3");
    if (two || three) ++i;
    plain += two ? '2' : three ? '3' : name[i];
  }
  return plain;
}

}  // namespace

const UnitName* find_unit(std::string_view name) {
  static const std::unordered_map<std::string_view, const UnitName*> by_name = [] {
    std::unordered_map<std::string_view, const UnitName*> all;
    for (const UnitName& unit : units()) all.emplace(unit.name, &unit);
    return all;
  }();
  if (const auto found = by_name.find(name); found != by_name.end()) return found->second;
  if (name.find('\xC2') == std::string_view::npos) return nullptr;
  const auto found = by_name.find(with_plain_digits(name));
  return found == by_name.end() ? nullptr : found->second;
}

const std::vector<std::string>& unit_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const UnitName& unit : units()) all.emplace_back(unit.name);
    return all;
  }();
  return names;
}

const AmbiguousUnit* find_ambiguous_unit(std::string_view name) {
  constexpr std::string_view gallons =
      "us_gal (US liquid gallon, 3.785 l) or imp_gal (imperial gallon, 4.546 l)";
  constexpr std::string_view tons = "t (1000 kg), 2000 lb (short ton) or 2240 lb (long ton)";
  static constexpr std::array table = {
      AmbiguousUnit{"gal", gallons},    AmbiguousUnit{"gals", gallons},
      AmbiguousUnit{"gallon", gallons}, AmbiguousUnit{"gallons", gallons},
      AmbiguousUnit{"ton", tons},       AmbiguousUnit{"tons", tons},
  };
  const auto* const found = std::ranges::find(table, name, &AmbiguousUnit::name);
  return found == table.end() ? nullptr : found;
}

double from_bare(double number, Dimension dimension) {
  const NamedDimension* named = find_named(dimension);
  return named == nullptr ? number : number * named->factor + named->offset;
}

double to_bare(double canonical, Dimension dimension) {
  const NamedDimension* named = find_named(dimension);
  return named == nullptr ? canonical : (canonical - named->offset) / named->factor;
}

namespace {

std::optional<Dimension> combine(Dimension a, Dimension b, int sign) {
  bool fits = true;
  const auto add = [&](std::int8_t x, std::int8_t y) {
    const int sum = x + sign * y;
    fits = fits && std::abs(sum) <= kHighestPower;
    return static_cast<std::int8_t>(fits ? sum : 0);
  };
  const Dimension result = {.length = add(a.length, b.length),
                            .mass = add(a.mass, b.mass),
                            .force = add(a.force, b.force),
                            .angle = add(a.angle, b.angle),
                            .time = add(a.time, b.time),
                            .temperature = add(a.temperature, b.temperature),
                            .volt = add(a.volt, b.volt),
                            .ampere = add(a.ampere, b.ampere),
                            .money = add(a.money, b.money)};
  return fits ? std::optional(result) : std::nullopt;
}

std::optional<Unit> finding_unit(Dimension d) {
  if (d == dimension::length) return Unit::mm;
  if (d == dimension::area) return Unit::mm2;
  if (d == dimension::volume) return Unit::mm3;
  if (d == dimension::angle) return Unit::degree;
  if (d == dimension::mass) return Unit::kg;
  if (d == dimension::force) return Unit::newton;
  if (d == dimension::torque) return Unit::newton_mm;
  if (d == dimension::stress) return Unit::mpa;
  if (d == dimension::none) return Unit::none;
  return std::nullopt;
}

}  // namespace

std::optional<Dimension> product(Dimension a, Dimension b) {
  return combine(a, b, 1);
}
std::optional<Dimension> quotient(Dimension a, Dimension b) {
  return combine(a, b, -1);
}

std::optional<std::string> unit_to_write(Dimension dimension, const std::string& currency) {
  if (dimension == dimension::money) return currency.empty() ? "EUR" : currency;
  if (dimension == dimension::temperature) return "K";
  const NamedDimension* named = find_named(dimension);
  if (named == nullptr || named->bare.empty()) return std::nullopt;
  return std::string(named->bare);
}

std::string quantity_text(double value, Dimension dimension, const std::string& currency) {
  const bool known = dimension == dimension::money && !currency.empty();
  const std::string unit = known ? currency : bare_unit(dimension);
  // Back from radians 45 deg may come as 45.00000000000001: nine decimals hide that and nothing
  // else.
  std::string text = rounded_text(to_bare(value, dimension), 9);
  return unit.empty() ? text : text + " " + unit;
}

void add_quantity(Finding& finding, std::string name, double value, Dimension dimension,
                  const std::string& currency) {
  if (const auto unit = finding_unit(dimension)) {
    finding.with(std::move(name), to_bare(value, dimension), *unit);
  } else {
    finding.with(std::move(name), quantity_text(value, dimension, currency));
  }
}

}  // namespace detail

}  // namespace ribbay

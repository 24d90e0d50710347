#include "units.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <numbers>
#include <optional>

namespace ribbay {

namespace {

// International yard and pound agreement of 1959, exact.
constexpr double kInch = 25.4;
constexpr double kFoot = 304.8;
constexpr double kPound = 0.45359237;
// Standard acceleration of free fall, 3rd CGPM (1901), ISO 80000-3; exact.
constexpr double kGravity = 9.80665;
constexpr double kPoundForce = 4.4482216152605;  // kPound * kGravity, exact in decimal
constexpr double kDegree = std::numbers::pi / 180.0;

struct NamedDimension {
  Dimension dimension;
  std::string_view name;
  std::string_view bare;
  double factor = 1.0;
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
    NamedDimension{dimension::temperature, "temperature", "K"},
    NamedDimension{dimension::volt, "voltage", "V"},
    NamedDimension{dimension::ampere, "current", "A"},
    NamedDimension{dimension::watt, "power", "W"},
    NamedDimension{dimension::money, "money", "money"},
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
           {"money", "money", d.money}}};
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
  constexpr Dimension charge{.time = 1, .ampere = 1};
  constexpr Dimension energy{.time = 1, .volt = 1, .ampere = 1};
  static const std::vector<UnitName> table = {
      {"mm", 1.0, of::length},
      {"cm", 10.0, of::length},
      {"m", 1000.0, of::length},
      {"um", 0.001, of::length},
      {"in", kInch, of::length},
      {"inch", kInch, of::length},
      {"inches", kInch, of::length},
      {"ft", kFoot, of::length},
      {"foot", kFoot, of::length},
      {"feet", kFoot, of::length},
      {"mm2", 1.0, of::area},
      {"cm2", 100.0, of::area},
      {"m2", 1e6, of::area},
      {"in2", 645.16, of::area},
      {"ft2", 92903.04, of::area},
      {"mm3", 1.0, of::volume},
      {"cm3", 1e3, of::volume},
      {"m3", 1e9, of::volume},
      {"ml", 1e3, of::volume},
      {"l", 1e6, of::volume},
      {"L", 1e6, of::volume},
      {"litre", 1e6, of::volume},
      {"litres", 1e6, of::volume},
      {"kg", 1.0, of::mass},
      {"g", 1e-3, of::mass},
      {"t", 1e3, of::mass},
      {"lb", kPound, of::mass},
      {"lbs", kPound, of::mass},
      {"oz", kPound / 16.0, of::mass},
      {"N", 1.0, of::force},
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
      {"psi", kPoundForce / 645.16, of::stress},
      {"deg", kDegree, of::angle},
      {"\xC2\xB0", kDegree, of::angle},
      {"rad", 1.0, of::angle},
      {"s", 1.0, of::time},
      {"min", 60.0, of::time},
      {"h", 3600.0, of::time},
      {"K", 1.0, of::temperature},
      {"degC", 1.0, of::temperature, 273.15},
      {"V", 1.0, of::volt},
      {"mV", 1e-3, of::volt},
      {"A", 1.0, of::ampere},
      {"mA", 1e-3, of::ampere},
      {"Ah", 3600.0, charge},
      {"W", 1.0, of::watt},
      {"kW", 1e3, of::watt},
      {"Wh", 3600.0, energy},
      {"kWh", 3.6e6, energy},
      {"%", 0.01, of::none},
  };
  return table;
}

}  // namespace

const UnitName* find_unit(std::string_view name) {
  const auto found = std::ranges::find(units(), name, &UnitName::name);
  return found == units().end() ? nullptr : &*found;
}

const std::vector<std::string>& unit_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const UnitName& unit : units()) all.emplace_back(unit.name);
    return all;
  }();
  return names;
}

double bare_factor(Dimension dimension) {
  const NamedDimension* named = find_named(dimension);
  return named == nullptr ? 1.0 : named->factor;
}

namespace {

Dimension combine(Dimension a, Dimension b, int sign) {
  const auto add = [sign](std::int8_t x, std::int8_t y) {
    return static_cast<std::int8_t>(std::clamp(x + sign * y, -100, 100));
  };
  return {.length = add(a.length, b.length),
          .mass = add(a.mass, b.mass),
          .force = add(a.force, b.force),
          .angle = add(a.angle, b.angle),
          .time = add(a.time, b.time),
          .temperature = add(a.temperature, b.temperature),
          .volt = add(a.volt, b.volt),
          .ampere = add(a.ampere, b.ampere),
          .money = add(a.money, b.money)};
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

Dimension product(Dimension a, Dimension b) {
  return combine(a, b, 1);
}
Dimension quotient(Dimension a, Dimension b) {
  return combine(a, b, -1);
}

std::string quantity_text(double value, Dimension dimension) {
  const std::string unit = bare_unit(dimension);
  // Back from radians 45 deg may come as 45.00000000000001: nine decimals hide that and nothing
  // else.
  std::string text = rounded_text(value / bare_factor(dimension), 9);
  return unit.empty() ? text : text + " " + unit;
}

void add_quantity(Finding& finding, std::string name, double value, Dimension dimension) {
  if (const auto unit = finding_unit(dimension)) {
    finding.with(std::move(name), value / bare_factor(dimension), *unit);
  } else {
    finding.with(std::move(name), quantity_text(value, dimension));
  }
}

}  // namespace detail

}  // namespace ribbay

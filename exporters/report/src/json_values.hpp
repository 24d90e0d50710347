#pragma once

#include "base/vec.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <string>

/// Values as report.json has them.
namespace ribbay::detail {

using Json = nlohmann::ordered_json;

/// `value` rounded to 1/`steps`. Rounding hides the last bits, in which machines may differ.
inline Json number(double value, double steps) {
  if (!std::isfinite(value)) return nullptr;
  const double rounded = std::round(value * steps) / steps;
  return rounded == 0.0 ? 0.0 : rounded;  // never -0
}

inline Json length_mm(double mm) {
  return number(mm, 1e3);
}
inline Json mass(double kg) {
  return number(kg, 1e6);
}
inline Json point_mm(Vec3 p) {
  return {length_mm(p.x), length_mm(p.y), length_mm(p.z)};
}
inline Json direction(Vec3 v) {
  return {number(v.x, 1e6), number(v.y, 1e6), number(v.z, 1e6)};
}
inline Json text_or_null(const std::string& text) {
  return text.empty() ? Json() : Json(text);
}

template <class Items, class ToJson>
Json list(const Items& items, ToJson to_json) {
  Json array = Json::array();
  for (const auto& item : items) array.push_back(to_json(item));
  return array;
}

}  // namespace ribbay::detail

#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace ribbay {

/// The dimension of a number as powers of base kinds. Dimensionless is all zeros. Canonical units:
/// mm, kg, N, rad, s, K, V, A, money; area mm2, volume mm3, torque N mm, stress MPa, power W.
struct Dimension {
  std::int8_t length = 0;
  std::int8_t mass = 0;
  std::int8_t force = 0;
  std::int8_t angle = 0;
  std::int8_t time = 0;
  std::int8_t temperature = 0;
  std::int8_t volt = 0;
  std::int8_t ampere = 0;
  std::int8_t money = 0;
  friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
};

namespace dimension {
inline constexpr Dimension none{};
inline constexpr Dimension length{.length = 1};
inline constexpr Dimension area{.length = 2};
inline constexpr Dimension volume{.length = 3};
inline constexpr Dimension mass{.mass = 1};
inline constexpr Dimension force{.force = 1};
inline constexpr Dimension torque{.length = 1, .force = 1};
inline constexpr Dimension stress{.length = -2, .force = 1};
inline constexpr Dimension angle{.angle = 1};
inline constexpr Dimension time{.time = 1};
inline constexpr Dimension temperature{.temperature = 1};
inline constexpr Dimension volt{.volt = 1};
inline constexpr Dimension ampere{.ampere = 1};
inline constexpr Dimension watt{.volt = 1, .ampere = 1};
inline constexpr Dimension resistance{.volt = 1, .ampere = -1};        ///< ohm
inline constexpr Dimension charge{.time = 1, .ampere = 1};             ///< A s; files say Ah
inline constexpr Dimension energy{.time = 1, .volt = 1, .ampere = 1};  ///< W s; files say Wh
inline constexpr Dimension money{.money = 1};  ///< in the one currency of the project
inline constexpr Dimension density{.length = -3, .mass = 1};  ///< kg/mm3; files say kg/m3
}  // namespace dimension

/// "length", "area", "mass", ... for the named ones, else powers such as "length^4".
std::string dimension_name(Dimension dimension);
/// The unit a bare number in a field of this dimension has: "mm", "kg", "N", "deg", "kg/m3", ... A
/// bare angle is degrees in files and radians inside; a bare density is kg/m3 in files and kg/mm3
/// inside; a bare temperature is degC in files and K inside; a bare charge is Ah, a bare energy Wh.
std::string bare_unit(Dimension dimension);

/// A number in canonical units with its dimension.
struct Quantity {
  double value = 0.0;
  Dimension dimension;
  bool scale_point = false;  ///< a temperature read on a scale (20 degC), not a difference (20 K)
  friend bool operator==(const Quantity&, const Quantity&) = default;
};

}  // namespace ribbay

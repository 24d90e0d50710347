#pragma once

#include "catalogue/catalogue.hpp"

/// How solid wood moves with its moisture.
namespace ribbay {

/// Between these moisture contents, percent of the dry mass, the movement of wood is as good as
/// linear. Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13, table 13-5: coefficients valid
/// from 6 to 14 %.
inline constexpr double kDriestWood = 6.0;
inline constexpr double kWettestWood = 14.0;

/// Change of a size across the grain, mm: size x coefficient x change of moisture in percent
/// points. Source: Wood Handbook, FPL-GTR-190 (2010), equation 13-2.
constexpr double wood_movement(double size, double coefficient, double points) {
  return size * coefficient * points;
}

/// Change of size per size and percent point across the grain of a board of this material, sawn
/// that way; 0 when it is no solid wood.
inline double movement_coefficient(const Material& material, bool quarter_sawn) {
  return quarter_sawn ? material.radial_movement : material.tangential_movement;
}

}  // namespace ribbay

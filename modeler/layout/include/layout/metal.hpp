#pragma once

#include "catalogue/catalogue.hpp"

namespace ribbay {

/// Whether a wood screw finds no hold in it: it has a contact potential, or no wood is as heavy.
inline bool is_metal(const Material& material) {
  constexpr double kHeaviestWood = 1.5e-6;  // kg/mm3: that of cell walls without a pore, from memory
  return material.anodic_index.has_value() || material.density > kHeaviestWood;
}

}  // namespace ribbay

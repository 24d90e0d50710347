#pragma once

#include "base/tolerance.hpp"

#include <array>
#include <cmath>
#include <optional>

namespace ribbay {

/// A metric coarse thread and what is turned onto it, mm.
struct MetricThread {
  double diameter = 0.0;
  double pitch = 0.0;   ///< ISO 261, coarse
  double washer = 0.0;  ///< thickness of a plain washer, ISO 7089
  double nut = 0.0;     ///< height of a hexagon nut at most, ISO 4032, from memory
  double flats = 0.0;   ///< across the flats of that nut, ISO 4032 by ISO 272, from memory
};

inline constexpr std::array<MetricThread, 7> kCoarseThreads{{{3, 0.5, 0.5, 2.4, 5.5},
                                                             {4, 0.7, 0.8, 3.2, 7},
                                                             {5, 0.8, 1.0, 4.7, 8},
                                                             {6, 1.0, 1.6, 5.2, 10},
                                                             {8, 1.25, 1.6, 6.8, 13},
                                                             {10, 1.5, 2.0, 8.4, 16},
                                                             {12, 1.75, 2.5, 10.8, 18}}};

/// Nullopt for what is not in the table.
inline std::optional<MetricThread> coarse_thread(double diameter) {
  for (const MetricThread& thread : kCoarseThreads) {
    if (std::abs(thread.diameter - diameter) < kSame) return thread;
  }
  return std::nullopt;
}

}  // namespace ribbay

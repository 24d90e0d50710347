#pragma once

#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// How much of a finish is bought, waste included.
struct FinishAmount {
  std::string key;
  std::string title;
  FinishKind kind = FinishKind::coat;
  double amount = 0.0;  ///< litres of a coat, square metres of a film, metres of an edge band
  std::string unit;     ///< "l", "m2", "m"
};

/// By key.
std::vector<FinishAmount> finish_amounts(const Layout& layout);

}  // namespace ribbay

#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

namespace ribbay {

/// How the columns of a table stand on a terminal.
struct TextColumns {
  std::string indent{};       ///< before every line
  std::vector<bool> right{};  ///< columns of numbers, lined up at their right; others at their left
  /// Columns are lined up as far as their texts have no more characters than this.
  std::size_t widest = std::numeric_limits<std::size_t>::max();
};

/// Rows with their columns side by side, two spaces apart; rows may be of unlike length. An empty
/// column takes no room, and no line ends with a space.
std::string lined_up(const std::vector<std::vector<std::string>>& rows,
                     const TextColumns& columns = {});

}  // namespace ribbay

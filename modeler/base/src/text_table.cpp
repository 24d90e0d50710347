#include "base/text_table.hpp"

#include "base/text.hpp"

#include <algorithm>

namespace ribbay {

std::string lined_up(const std::vector<std::vector<std::string>>& rows,
                     const TextColumns& columns) {
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()), 0);
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::size_t size = character_count(row[c]);
      if (size <= columns.widest) widths[c] = std::max(widths[c], size);
    }
  }
  std::string page;
  for (const auto& row : rows) {
    std::string line = columns.indent;
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::size_t size = character_count(row[c]);
      const std::string space(widths[c] > size ? widths[c] - size : 0, ' ');
      const bool right = c < columns.right.size() && columns.right[c];
      line += right ? space + row[c] : row[c] + space;
      if (widths[c] > 0) line += "  ";
    }
    line.erase(line.find_last_not_of(' ') + 1);
    page += line + "\n";
  }
  return page;
}

}  // namespace ribbay

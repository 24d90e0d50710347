#pragma once

#include "catalogue/titles.hpp"
#include "layout/layout.hpp"

#include <cctype>
#include <map>
#include <string>

/// Bought hardware as it is counted in words: "4 x Wood screw 4 x 40".
namespace ribbay::testing {

/// How many of each title the layout has, in one module or in all.
inline std::map<std::string, int> hardware_in(const Layout& layout,
                                              const std::string& module = {}) {
  std::map<std::string, int> all;
  for (const Part& part : layout.parts) {
    if (part.kind == PartKind::hardware && !part.stock.key.empty() &&
        (module.empty() || part.module == module))
      ++all[stock_title(*layout.catalogue, part.stock.key)];
  }
  return all;
}

/// The sum of the numbers before " x TITLE", where nothing goes on behind it. The far ends of what
/// was told before are told again and not counted.
inline int told_of(const std::string& text, const std::string& title) {
  const std::string word = " x " + title;
  int sum = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if (end < text.size() && std::isspace(static_cast<unsigned char>(text[end])) == 0 &&
        text[end] != ',' && text[end] != ';')
      continue;
    if (text.compare(end, 3, " x ") == 0) continue;  // of a longer title
    if (text.rfind("far ends of", at) != std::string::npos &&
        text.find_first_of(";.", text.rfind("far ends of", at)) > at)
      continue;
    std::size_t first = at;
    while (first > 0 && std::isdigit(static_cast<unsigned char>(text[first - 1])) != 0) --first;
    if (first < at) sum += std::stoi(text.substr(first, at - first));
  }
  return sum;
}

}  // namespace ribbay::testing

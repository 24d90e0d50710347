#include "spec/names.hpp"

#include <algorithm>

namespace ribbay {

bool is_name(std::string_view key) {
  const auto lower = [](char c) { return c >= 'a' && c <= 'z'; };
  return !key.empty() && lower(key.front()) && std::ranges::all_of(key, [&](char c) {
    return lower(c) || (c >= '0' && c <= '9') || c == '_';
  });
}

std::string mended_name(std::string_view key) {
  std::string name;
  for (const char c : key) {
    const bool capital = c >= 'A' && c <= 'Z';
    const char small = capital ? static_cast<char>(c - 'A' + 'a') : c;
    if (is_name(std::string("a") + small)) {
      name += small;
    } else if (!name.empty() && name.back() != '_') {
      name += '_';
    }
  }
  while (!name.empty() && name.back() == '_') name.pop_back();
  if (!name.empty() && !is_name(name)) name.insert(0, "n");
  return is_name(name) ? name : std::string();
}

}  // namespace ribbay

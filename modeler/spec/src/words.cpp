#include "words.hpp"

namespace ribbay::detail {

namespace {

constexpr std::size_t kShortList = 600;  // bytes of allowed names that are worth printing

}  // namespace

std::string short_list(const std::vector<std::string>& words) {
  if (words.empty()) return "-";
  std::string text;
  for (const std::string& word : words) {
    if (text.size() + word.size() > kShortList) return text + ", ...";
    if (!text.empty()) text += ", ";
    text += word;
  }
  return text;
}

std::string place_text(const Place& place) {
  return place.line > 0 ? place.file + ":" + std::to_string(place.line) : place.file;
}

}  // namespace ribbay::detail

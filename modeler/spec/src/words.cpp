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

std::string table_of_reference(const std::string& refers_to) {
  return refers_to.substr(0, refers_to.find(':'));
}

std::string noun_of_reference(const std::string& refers_to) {
  const std::size_t colon = refers_to.find(": ");
  return colon == std::string::npos ? refers_to : refers_to.substr(colon + 2);
}

}  // namespace ribbay::detail

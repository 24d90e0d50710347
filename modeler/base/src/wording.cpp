#include "base/wording.hpp"

#include <algorithm>

namespace ribbay {

namespace {

/// One program speaks one language: it is set once, and everything that is printed asks here.
Language& spoken() {
  static Language language;
  return language;
}

std::string_view text_of(std::string_view key) {
  if (const auto found = spoken().find(key); found != spoken().end()) return found->second;
  const auto& table = english_words();
  const auto found = std::ranges::lower_bound(table, key, {}, &Wording::key);
  return found != table.end() && found->key == key ? found->text : key;
}

/// Calls `plain` with the text between places and `place` with the name of each.
void walk(std::string_view text, auto&& plain, auto&& place) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t open = text.find('{', at);
    plain(text.substr(at, open - at));
    const std::size_t close = text.find('}', open);
    if (open == std::string_view::npos || close == std::string_view::npos) return;
    place(text.substr(open + 1, close - open - 1));
    at = close + 1;
  }
}

}  // namespace

std::string say(std::string_view key, std::initializer_list<Filling> fillings) {
  std::string out;
  walk(
      text_of(key), [&](std::string_view plain) { out += plain; },
      [&](std::string_view name) {
        const auto found = std::ranges::find(fillings, name, &Filling::place);
        if (found != fillings.end())
          out += found->value;
        else
          out += "{" + std::string(name) + "}";
      });
  return out;
}

void speak(Language language) {
  spoken() = std::move(language);
}

std::vector<std::string> places_of(std::string_view text) {
  std::vector<std::string> names;
  walk(
      text, [](std::string_view) {}, [&](std::string_view name) { names.emplace_back(name); });
  std::ranges::sort(names);
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

}  // namespace ribbay

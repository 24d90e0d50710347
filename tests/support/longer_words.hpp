#pragma once

#include "base/wording.hpp"

#include <string>
#include <utility>

namespace ribbay::testing {

/// A made-up language: each English word 30 % longer, its last letter drawn out. Places stay.
inline Language longer_words() {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  Language language;
  for (const Wording& wording : english_words()) {
    std::string& text = language[std::string(wording.key)];
    std::size_t run = 0;
    bool place = false;
    const auto end_word = [&] {
      if (run > 0) text += std::string((3 * run + 9) / 10, text.back());
      run = 0;
    };
    for (const char c : wording.text) {
      if (!letter(c)) end_word();
      if (c == '{') place = true;
      if (c == '}') place = false;
      if (!place && letter(c)) ++run;
      text += c;
    }
    end_word();
  }
  return language;
}

/// Speaks a language as long as it lives.
class Speaking {
 public:
  explicit Speaking(Language language) { speak(std::move(language)); }
  ~Speaking() { speak({}); }
  Speaking(const Speaking&) = delete;
  Speaking& operator=(const Speaking&) = delete;
};

}  // namespace ribbay::testing

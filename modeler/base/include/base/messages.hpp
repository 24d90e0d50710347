#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "base/text.hpp"

namespace ribbay {

/// The words for one finding code. `{name}` stands for the argument of that name, `{0}` for subject 0.
/// The advice is printed only when every argument it names is there, so a check that could not confirm its
/// advice simply leaves the argument out.
struct Message {
  std::string_view code;
  std::string_view text;
  std::string_view advice;
};

/// The English table, sorted by code. Every code in the program stands here (a test looks).
const std::vector<Message>& english_messages();

/// The message of `finding` in words, without its place. Lengths are printed as `show` says.
std::string message_text(const Finding& finding, LengthStyle show);

/// The advice in words, or an empty string.
std::string advice_text(const Finding& finding, LengthStyle show);

/// One finding for a terminal: `file:line:col: error: message [code]`, the line of the file with a caret
/// when there is one, and the advice. No trailing newline.
std::string finding_text(const Finding& finding, LengthStyle show);

}  // namespace ribbay

#include "base/messages.hpp"

#include <algorithm>

namespace ribbay {

namespace {

const Message* find_message(std::string_view code) {
  const auto& table = english_messages();
  const auto found = std::ranges::lower_bound(table, code, {}, &Message::code);
  return found != table.end() && found->code == code ? &*found : nullptr;
}

/// Fills the placeholders; false when one has no argument.
bool fill(std::string_view pattern, const Finding& finding, LengthStyle show, std::string& out) {
  std::size_t at = 0;
  while (at < pattern.size()) {
    const std::size_t open = pattern.find('{', at);
    out += pattern.substr(at, open - at);
    if (open == std::string_view::npos) return true;
    const std::size_t close = pattern.find('}', open);
    const std::string_view name = pattern.substr(open + 1, close - open - 1);
    if (name.size() == 1 && name[0] >= '0' && name[0] <= '9') {
      const auto index = static_cast<std::size_t>(name[0] - '0');
      if (index >= finding.subjects.size()) return false;
      out += finding.subjects[index];
    } else {
      const Argument* argument = finding.argument(name);
      if (argument == nullptr) return false;
      if (const auto* word = std::get_if<std::string>(&argument->value)) {
        out += *word;
      } else {
        out += value_text(std::get<double>(argument->value), argument->unit, show);
      }
    }
    at = close + 1;
  }
  return true;
}

}  // namespace

std::string message_text(const Finding& finding, LengthStyle show) {
  const Message* message = find_message(finding.code);
  if (message == nullptr) return finding.code + ": " + join(finding.subjects, ", ");
  std::string text;
  if (!fill(message->text, finding, show, text)) text += "?";
  return text;
}

std::string advice_text(const Finding& finding, LengthStyle show) {
  const Message* message = find_message(finding.code);
  std::string text;
  if (message == nullptr || message->advice.empty() || !fill(message->advice, finding, show, text)) {
    return {};
  }
  return text;
}

std::string finding_text(const Finding& finding, LengthStyle show) {
  std::string text;
  if (finding.place) {
    text += finding.place->file;
    if (finding.place->line > 0) {
      text += ":" + std::to_string(finding.place->line) + ":" + std::to_string(finding.place->column);
    }
    text += ": ";
  }
  const std::string_view severity = finding.status == Status::not_proven ? "not proven"
                                    : finding.severity == Severity::error ? "error"
                                    : finding.severity == Severity::warning ? "warning"
                                                                            : "note";
  text += severity;
  text += ": " + message_text(finding, show) + " [" + finding.code + "]";
  if (finding.place && !finding.place->text.empty()) text += "\n    " + finding.place->text;
  const std::string advice = advice_text(finding, show);
  if (!advice.empty()) text += "\n  mend: " + advice;
  return text;
}

}  // namespace ribbay

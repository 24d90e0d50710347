#include "console.hpp"

#include <array>
#include <string_view>

namespace ribbay::detail {

namespace {

constexpr std::string_view kEraseLine = "\r\x1b[K";
constexpr int kBarWidth = 20;

/// Start of the first severity word of a line: at its beginning, or behind the place it speaks of.
std::size_t find_severity(std::string_view line, std::string_view word) {
  if (line.starts_with(word)) return 0;
  const std::size_t at = line.find(": " + std::string(word));
  return at == std::string_view::npos ? at : at + 2;
}

}  // namespace

void Progress::step(const std::string& what) {
  if (!shown_) return;
  const int filled = kBarWidth * done_ / steps_;
  err_ << kEraseLine << '[' << std::string(static_cast<std::size_t>(filled), '#')
       << std::string(static_cast<std::size_t>(kBarWidth - filled), ' ') << "] " << what
       << std::flush;
  ++done_;
}

void Progress::clear() {
  if (shown_) err_ << kEraseLine << std::flush;
}

std::string coloured(const std::string& text) {
  struct Paint {
    std::string_view word;
    std::string_view code;
  };
  constexpr std::array paints = {Paint{"error:", "\x1b[1;31m"}, Paint{"warning:", "\x1b[1;33m"},
                                 Paint{"not proven:", "\x1b[1;35m"}, Paint{"note:", "\x1b[1;36m"}};
  constexpr std::string_view plain = "\x1b[0m";
  std::string page;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1) + 1;
    std::string line = text.substr(at, end - at);
    for (const Paint& paint : paints) {
      const std::size_t found =
          line.starts_with(' ') ? std::string::npos : find_severity(line, paint.word);
      if (found == std::string::npos) continue;
      line.insert(found + paint.word.size(), plain);
      line.insert(found, paint.code);
      break;
    }
    page += line;
    at = end;
  }
  return page;
}

}  // namespace ribbay::detail

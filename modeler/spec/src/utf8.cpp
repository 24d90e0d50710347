#include "utf8.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

unsigned byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

bool is_continuation(std::string_view text, std::size_t at) {
  return at < text.size() && (byte_at(text, at) & 0xC0U) == 0x80U;
}

/// Bytes of the character at `at`, or 0 when it is malformed. RFC 3629, section 4.
std::size_t character_size(std::string_view text, std::size_t at) {
  const unsigned first = byte_at(text, at);
  if (first < 0x80U) return 1;
  const std::size_t size = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
  if (first < 0xC2U || first > 0xF4U) return 0;
  for (std::size_t i = 1; i < size; ++i) {
    if (!is_continuation(text, at + i)) return 0;
  }
  const unsigned second = byte_at(text, at + 1);
  const bool too_long = (first == 0xE0U && second < 0xA0U) || (first == 0xF0U && second < 0x90U);
  const bool surrogate = first == 0xEDU && second > 0x9FU;
  const bool beyond = first == 0xF4U && second > 0x8FU;
  return too_long || surrogate || beyond ? 0 : size;
}

}  // namespace

std::size_t count_characters(std::string_view text) {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::size_t offset_of_character(std::string_view text, std::size_t count) {
  std::size_t at = 0;
  for (; at < text.size(); ++at) {
    if (is_continuation(text, at)) continue;
    if (count-- == 0) break;
  }
  return at;
}

LineIndex::LineIndex(std::string_view text) : text_(text), line_starts_{0} {
  std::size_t characters = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (is_continuation(text, at)) continue;
    if (characters % kStride == 0) offsets_.push_back(at);
    ++characters;
    if (text[at] == '\n') line_starts_.push_back(characters);
  }
}

std::size_t LineIndex::offset(std::size_t line, std::size_t column) const {
  if (line == 0 || column == 0 || line > line_starts_.size()) return text_.size();
  const std::size_t character = line_starts_[line - 1] + column - 1;
  const std::size_t block = character / kStride;
  if (block >= offsets_.size()) return text_.size();
  return offsets_[block] + offset_of_character(text_.substr(offsets_[block]), character % kStride);
}

}  // namespace ribbay::detail

namespace ribbay {

std::size_t first_bad_utf8(std::string_view bytes) {
  std::size_t at = 0;
  while (at < bytes.size()) {
    const std::size_t size = detail::character_size(bytes, at);
    if (size == 0) return at;
    at += size;
  }
  return std::string_view::npos;
}

}  // namespace ribbay

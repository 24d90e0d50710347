#pragma once

#include "spec/utf8_text.hpp"

#include <cstddef>
#include <string_view>
#include <vector>

namespace ribbay::detail {

using ribbay::first_bad_utf8;

/// Unicode characters in well-formed UTF-8.
std::size_t count_characters(std::string_view text);

/// Offset of character `count` of `text`, or its size when it has fewer.
std::size_t offset_of_character(std::string_view text, std::size_t count);

/// Finds the byte at a line and column of well-formed UTF-8 without walking long lines again and
/// again.
class LineIndex {
 public:
  explicit LineIndex(std::string_view text);
  /// Line and column count from 1, columns in characters. Past the end gives the size of the text.
  std::size_t offset(std::size_t line, std::size_t column) const;

 private:
  static constexpr std::size_t kStride = 64;
  std::string_view text_;
  std::vector<std::size_t> line_starts_;  ///< in characters
  std::vector<std::size_t> offsets_;      ///< of every kStride-th character, in bytes
};

}  // namespace ribbay::detail

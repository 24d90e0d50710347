#pragma once

#include "base/result.hpp"
#include "base/wording.hpp"

#include <string>

/// The words of drawings in another language, as a file.
namespace ribbay::detail {

/// Reads a language from a TOML file of keys and texts, dotted keys or tables: `forward = "AVANT"`,
/// `column.hole = "Trou"`. Keys that are left out stay English. Every fault is told at once: a key
/// that no text has, a value that is no text, a place that the English text does not fill, a letter
/// that the drawings' alphabet lacks; and what load_document() finds.
Result<Language> read_words(const std::string& path);

/// The English table as such a file, to be translated.
std::string english_words_file();

}  // namespace ribbay::detail

#pragma once

#include "base/messages.hpp"
#include "thing.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <string>
#include <vector>

namespace ribbay {

/// Files that exist only in a test.
using Files = std::map<std::string, std::string>;

inline ReadFile reader_of(Files files) {
  return [files = std::move(files)](const std::string& path) -> Result<std::string> {
    const auto found = files.find(path);
    if (found != files.end()) return found->second;
    Finding missing = input_error("input.no_file", {path, 0, 0, {}});
    missing.subjects = {path};
    return fail(std::move(missing));
  };
}

inline Built<Document> load(const std::string& text,
                            const std::vector<std::string>& overrides = {}) {
  return load_document("t.toml", overrides, reader_of({{"t.toml", text}}));
}

inline std::string words(const Findings& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    text += finding_text(finding, LengthStyle::millimetres) + "\n";
  }
  return text;
}

inline std::vector<std::string> codes(const Findings& findings) {
  std::vector<std::string> all;
  for (const Finding& finding : findings) all.push_back(finding.code);
  return all;
}

}  // namespace ribbay

#pragma once

#include "base/messages.hpp"
#include "catalogue/catalogue.hpp"

#include <catch2/catch.hpp>

#include <string>

namespace ribbay::tests {

inline std::string all_text(const Findings& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    text += finding_text(finding, LengthStyle::millimetres) + "\n";
  }
  return text;
}

/// The catalogue in TOML text.
inline Built<Catalogue> read_text(const std::string& text) {
  const ReadFile give = [&](const std::string&) -> Result<std::string> { return text; };
  auto document = load_document("stock.toml", {}, give);
  if (!document.findings.empty()) return {{}, document.findings};
  return read_catalogue(document.value);
}

/// A committed file of params/, which must be sound.
inline Catalogue committed(const std::string& file) {
  auto document = load_document(RIBBAY_SOURCE_DIR "/params/" + file);
  auto catalogue = read_catalogue(document.value);
  REQUIRE((all_text(document.findings) + all_text(catalogue.findings)).empty());
  return std::move(catalogue.value);
}

}  // namespace ribbay::tests

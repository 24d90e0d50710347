#include "../spec/thing.hpp"
#include "promises.hpp"
#include "targets.hpp"

#include <cmath>
#include <string>

namespace ribbay {

namespace {

/// Two places for an expression: one for any number, one for a length.
Document document_with_holes() {
  const ReadFile read = [](const std::string&) -> Result<std::string> {
    return std::string("[values]\nlining = \"9 mm\"\nx = '''?'''\n[thing]\nwidth = '''?'''\n");
  };
  return std::move(load_document("t.toml", {}, read).value);
}

void fill_holes(Node& node, const std::string& text, std::string_view shown) {
  if (auto* entries = std::get_if<Node::Table>(&node.value)) {
    for (Entry& entry : *entries) fill_holes(entry.value, text, shown);
  } else if (node.place.text == "'''?'''") {
    node.value = text;
    node.place.text = "'''" + std::string(shown) + "'''";
  }
}

/// As the reader hands texts on: UTF-8, not longer than it allows. Bytes that are none are taken
/// for Latin-1.
std::string as_text(std::string_view bytes) {
  std::string text;
  for (const char c : bytes.substr(0, InputLimits{}.string_bytes / 2)) {
    const auto code = static_cast<unsigned char>(c);
    if (code < 0x80U) {
      text += c;
    } else {
      text += static_cast<char>(0xC0U | (code >> 6U));
      text += static_cast<char>(0x80U | (code & 0x3FU));
    }
  }
  return text;
}

}  // namespace

void fuzz_evaluator(std::string_view bytes) {
  static const Document holes = document_with_holes();
  const std::string text = as_text(bytes);
  Document document = holes;
  fill_holes(document.root, text, text.substr(0, text.find('\n')));
  Evaluator evaluator(document, thing_resolvers());
  evaluator.declare("thing", thing_schema(), "thing");
  const auto width = evaluator.number("thing", "width");
  promise(!width || std::isfinite(*width), "computed numbers are finite");
  // The failure of this one name counts as told by somebody else: see thing_resolvers().
  const bool told_before = text.find("vehicle.broken") != std::string::npos;
  promise(width || told_before || !evaluator.findings().empty(), "what is not computed is told");
  evaluator.check_values();
  check_findings(evaluator.findings(), Evaluator::kMostFindings);
}

}  // namespace ribbay

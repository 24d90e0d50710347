#include "targets.hpp"

#include "../spec/thing.hpp"
#include "base/messages.hpp"
#include "spec/document.hpp"
#include "vehicle/vehicle.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>

namespace ribbay {

namespace {

void promise(bool kept, const char* what) {
  if (kept) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

/// Findings can be printed, stand somewhere, and are not endless.
void check(const Findings& findings, std::size_t most) {
  promise(findings.size() <= most, "findings are limited");
  for (const Finding& finding : findings) {
    const bool words = !message_text(finding, LengthStyle::inches).ends_with('?');
    promise(words, "every finding has its words");  // ? stands for a fact that is missing
    promise(!finding_text(finding, LengthStyle::inches).empty(), "every finding can be printed");
    promise(finding.place.has_value(), "every fault of the input has a place");
    promise(finding.place->line >= 0 && finding.place->column >= 0, "which is one");
  }
}

void check_numbers(const Record& record) {
  for (const Field& field : thing_schema()->fields) {
    if (!record.has(field.name)) continue;
    if (field.kind == FieldKind::quantity || field.kind == FieldKind::count) {
      promise(std::isfinite(record.number(field.name)), "computed numbers are finite");
    }
  }
}

// Whoever reads a file stops at the first fault of syntax in each, but merges what is left.
constexpr std::size_t kMostOfReader = 200'000;

}  // namespace

void fuzz_reader(std::string_view bytes) {
  std::map<std::string, std::string> files;
  std::vector<std::string> options;
  std::string* file = &files["t.toml"];
  while (!bytes.empty()) {
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    const std::string_view line = bytes.substr(0, end);
    bytes.remove_prefix(std::min(end + 1, bytes.size()));
    if (line.starts_with("#file ")) {
      file = &files[std::string(line.substr(6))];
    } else if (line.starts_with("#set ")) {
      options.emplace_back(line.substr(5));
    } else {
      *file += line;
      *file += '\n';
    }
  }
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    const auto found = files.find(path);
    if (found != files.end()) return found->second;
    Finding missing = input_error("input.no_file", {path, 0, 0, {}});
    missing.subjects = {path};
    return fail(std::move(missing));
  };
  const Built<Document> document = load_document("t.toml", options, read);
  check(document.findings, kMostOfReader);
  Evaluator evaluator(document.value, thing_resolvers());
  evaluator.declare("thing", thing_schema(), "thing");
  evaluator.check_top_level({"format", "values", "thing"});
  if (const auto record = evaluator.record("thing")) check_numbers(*record);
  evaluator.check_values();
  check(evaluator.findings(), Evaluator::kMostFindings);
}

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
  promise(width || !evaluator.findings().empty(), "what is not computed is told");
  evaluator.check_values();
  check(evaluator.findings(), Evaluator::kMostFindings);
}

void fuzz_vehicle(std::string_view bytes) {
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    if (path == "v.toml") return std::string(bytes);
    return fail(input_error("input.not_readable", {path, 0, 0, {}}));
  };
  const Built<Document> document = load_document("v.toml", {}, read);
  check(document.findings, kMostOfReader);
  const Result<Vehicle> vehicle = read_vehicle(document.value);
  if (!vehicle) check(vehicle.error(), kMostOfReader);
}

}  // namespace ribbay

#include "explain.hpp"

#include "base/text.hpp"
#include "layout/project.hpp"

#include <algorithm>
#include <numbers>
#include <vector>

namespace ribbay::detail {

namespace {

constexpr std::size_t kPageWidth = 100;

/// `text` broken between words, every line indented.
std::string wrapped(const std::string& text, const std::string& indent) {
  std::string page;
  std::string line = indent;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    if (line.size() > indent.size() && line.size() + 1 + word.size() > kPageWidth) {
      page += line + "\n";
      line = indent;
    }
    line += (line.size() > indent.size() ? " " : "") + word;
    at = end + 1;
  }
  return page + line + "\n";
}

/// A limit as it would be written in a file: angles in degrees, densities in kg/m3.
std::string limit_text(double value, Dimension dimension) {
  if (dimension == dimension::angle) value *= 180.0 / std::numbers::pi;
  if (dimension == dimension::density) value *= 1e9;
  const std::string unit = bare_unit(dimension);
  return rounded_text(value, 6) + (unit.empty() ? "" : " " + unit);
}

std::string type_text(const Field& field) {
  const std::string unit = bare_unit(field.dimension);
  const std::string with_unit = unit.empty() ? "" : " in " + unit;
  switch (field.kind) {
    case FieldKind::quantity:
      return (unit.empty() ? "number" : dimension_name(field.dimension)) + with_unit;
    case FieldKind::count:
      return "whole number";
    case FieldKind::flag:
      return "true or false";
    case FieldKind::text:
      return "text";
    case FieldKind::choice:
      return "one of: " + join(field.choices, ", ");
    case FieldKind::reference:
      return "name of a " + field.refers_to;
    case FieldKind::path:
      return "file";
    case FieldKind::date:
      return "date";
    case FieldKind::quantities:
      return "list of numbers" + with_unit;
    case FieldKind::sizes:
      return "list of sizes" + with_unit + ", or shares of what is left (\"1 share\")";
    case FieldKind::texts:
      return field.choices.empty() ? "list of texts" : "list of: " + join(field.choices, ", ");
    case FieldKind::vector:
      return "list of " + std::to_string(field.most) + " numbers" + with_unit;
    case FieldKind::table:
      return "table";
    case FieldKind::keyed:
      return "table of named tables";
    case FieldKind::list:
      return "list of tables";
  }
  return {};
}

std::string details(const Field& field) {
  std::vector<std::string> words = {type_text(field)};
  if (field.above) words.push_back("more than " + limit_text(*field.above, field.dimension));
  if (field.at_least) words.push_back("at least " + limit_text(*field.at_least, field.dimension));
  if (field.at_most) words.push_back("at most " + limit_text(*field.at_most, field.dimension));
  if (field.required) words.emplace_back("required");
  if (!field.fallback.empty()) words.push_back("default " + field.fallback);
  return join(words, "; ");
}

/// The name a field has below `prefix`: entries of named tables and lists stand for all of their
/// kind.
std::string inner_prefix(const std::string& prefix, const Field& field) {
  return prefix + field.name + (field.kind == FieldKind::table ? "." : ".NAME.");
}

void explain_fields(const Schema& schema, const std::string& prefix, std::string& page) {
  for (const Field& field : schema.fields) {
    page += "\n  " + prefix + field.name + "\n";
    page += wrapped(details(field), "      ");
    if (!field.meaning.empty()) page += wrapped(field.meaning, "      ");
    if (field.inner) explain_fields(*field.inner, inner_prefix(prefix, field), page);
  }
}

}  // namespace

std::string list_of_kinds() {
  const std::vector<NamedSchema> all = project_schemas();
  std::size_t width = 0;
  for (const NamedSchema& named : all) width = std::max(width, named.name.size());
  std::string page = "What parameter files may hold; \"ribbay explain KIND\" tells more.\n\n";
  for (const NamedSchema& named : all) {
    std::string name = "  " + named.name;
    name.resize(width + 4, ' ');
    page += name + named.heading + "\n";
  }
  return page;
}

std::optional<std::string> explanation(const std::string& kind) {
  std::string page;
  for (const NamedSchema& named : project_schemas()) {
    if (named.name != kind) continue;
    if (!page.empty()) page += "\n";
    page += named.heading + "\n";
    if (!named.schema->meaning.empty()) page += wrapped(named.schema->meaning, "  ");
    explain_fields(*named.schema, "", page);
  }
  if (page.empty()) return std::nullopt;
  return page;
}

std::string unknown_kind(const std::string& kind) {
  std::vector<std::string> names;
  for (const NamedSchema& named : project_schemas()) names.push_back(named.name);
  std::string text = "ribbay: there is no kind \"" + kind + "\"";
  const std::string near = nearest(kind, names);
  return text +
         (near.empty() ? ". There are: " + join(names, ", ") : "; did you mean " + near + "?") +
         "\n";
}

}  // namespace ribbay::detail

#include "spec/schema.hpp"

#include "base/text.hpp"
#include "units.hpp"
#include "words.hpp"

#include <algorithm>

namespace ribbay {

const Field* Schema::find(std::string_view field) const {
  const auto found = std::ranges::find(fields, field, &Field::name);
  return found == fields.end() ? nullptr : &*found;
}

namespace {

std::string number_kind(const Field& field) {
  const std::string unit = bare_unit(field.dimension);
  std::string text = dimension_name(field.dimension);
  if (!unit.empty()) text += " in " + unit;
  return text;
}

std::string with_article(const std::string& noun) {
  const bool vowel =
      !noun.empty() && std::string_view("aeiou").find(noun.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + noun;
}

/// A list of exactly one value is read as that value.
bool is_single(const Field& field) {
  return field.least == 1 && field.most == 1;
}

}  // namespace

std::string describe_type(const Field& field) {
  const std::string list = is_single(field) ? "" : "list: ";
  switch (field.kind) {
    case FieldKind::quantity:
      return number_kind(field);
    case FieldKind::count:
      return "whole number";
    case FieldKind::flag:
      return field.conditional ? "true, false or a condition" : "true or false";
    case FieldKind::text:
      return "text";
    case FieldKind::choice:
      return "one of " + join(field.choices, ", ");
    case FieldKind::reference:
      return "name of " + with_article(detail::noun_of_reference(field.refers_to));
    case FieldKind::path:
      return "file name";
    case FieldKind::date:
      return "date such as 2026-11-24, without quotes";
    case FieldKind::quantities:
    case FieldKind::vector:
      return list + number_kind(field);
    case FieldKind::sizes:
      return list + number_kind(field) + ", or \"1 share\" of what is left";
    case FieldKind::texts:
      return field.choices.empty() ? "list of texts"
                                   : "list: each one of " + join(field.choices, ", ");
    case FieldKind::table:
      return "table";
    case FieldKind::keyed:
      return "table of named tables";
    case FieldKind::list:
      return "list of tables";
  }
  return {};
}

namespace {

bool has_items(FieldKind kind) {
  return kind == FieldKind::quantities || kind == FieldKind::sizes || kind == FieldKind::texts ||
         kind == FieldKind::vector || kind == FieldKind::keyed || kind == FieldKind::list;
}

std::string items_text(const Field& field) {
  if (!has_items(field.kind)) return {};
  const std::string least = std::to_string(field.least);
  const std::string most = std::to_string(field.most);
  const bool limited = field.most < Field{}.most;
  if (is_single(field) && (field.kind == FieldKind::quantities || field.kind == FieldKind::sizes))
    return {};
  if (is_single(field)) return "1 item";
  if (limited && field.least == field.most) return most + " items";
  if (limited && field.least > 0) return least + " to " + most + " items";
  if (limited) return "at most " + most + " items";
  if (field.least > 0) return "at least " + least + (field.least == 1 ? " item" : " items");
  return {};
}

}  // namespace

std::string describe_limits(const Field& field) {
  std::vector<std::string> words;
  if (std::string items = items_text(field); !items.empty()) words.push_back(std::move(items));
  const auto limit = [&](const char* before, const std::optional<double>& value) {
    if (value) words.push_back(before + detail::quantity_text(*value, field.dimension));
  };
  limit("more than ", field.above);
  limit("at least ", field.at_least);
  limit("at most ", field.at_most);
  return join(words, ", ");
}

std::string describe(const Field& field) {
  std::vector<std::string> words = {describe_type(field)};
  if (std::string limits = describe_limits(field); !limits.empty())
    words.push_back(std::move(limits));
  if (!field.fallback.empty()) words.push_back("default " + field.fallback);
  return join(words, ", ");
}

}  // namespace ribbay

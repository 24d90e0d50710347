#include "json_text.hpp"
#include "reference/reference.hpp"
#include "spec/document.hpp"
#include "spec/vocabulary.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdint>
#include <optional>

namespace ribbay {

using namespace detail;

namespace {

using Json = nlohmann::ordered_json;

Json ref(const std::string& name) {
  return {{"$ref", "#/$defs/" + name}};
}

Json texts(const Field& field) {
  Json item = {{"type", "string"}};
  if (!field.choices.empty()) item = {{"enum", field.choices}};
  return item;
}

/// As short as the same number can be written: 0, not 0.0.
Json bare(double canonical, Dimension dimension) {
  const double value = as_bare_number(canonical, dimension);
  const double whole = std::round(value);
  return std::abs(whole) < 1e9 && whole == value ? Json(static_cast<std::int64_t>(whole))
                                                 : Json(value);
}

/// A number, or a text that holds a quantity or an expression. Limits bind numbers alone: what an
/// expression yields only the program can tell.
Json number(const Field& field) {
  Json item = ref(field.kind == FieldKind::count ? "count" : "number");
  const auto limit = [&](const char* word, const std::optional<double>& value) {
    if (value) item[word] = bare(*value, field.dimension);
  };
  limit("exclusiveMinimum", field.above);
  limit("minimum", field.at_least);
  limit("maximum", field.at_most);
  return item;
}

Json list(const Field& field, Json item) {
  Json array = {{"type", "array"}, {"items", std::move(item)}};
  if (field.least > 0) array["minItems"] = field.least;
  if (field.most < Field{}.most) array["maxItems"] = field.most;
  return array;
}

/// A single value stands for a list of one.
Json one_or_list(const Field& field, const Json& item) {
  return {{"anyOf", {item, list(field, item)}}};
}

Json table(const Schema& schema);

/// Entries of any name, all alike; `remove` beside them deletes what an included file has.
Json named(Json entry) {
  return {{"type", "object"},
          {"properties", {{"remove", ref("remove")}}},
          {"propertyNames", ref("name")},
          {"additionalProperties", std::move(entry)}};
}

Json value(const Field& field) {
  switch (field.kind) {
    case FieldKind::quantity:
    case FieldKind::count:
      return number(field);
    case FieldKind::flag:
      if (field.conditional) return {{"type", {"boolean", "string"}}};
      return {{"type", "boolean"}};
    case FieldKind::choice:
      return {{"enum", field.choices}};
    case FieldKind::text:
    case FieldKind::reference:
    case FieldKind::path:
      return {{"type", "string"}};
    case FieldKind::date:
      return {{"type", "string"}, {"format", "date"}};
    case FieldKind::quantities:
    case FieldKind::sizes:
      return one_or_list(field, number(field));
    case FieldKind::texts:
      return one_or_list(field, texts(field));
    case FieldKind::vector:
      return list(field, number(field));
    case FieldKind::table:
      return table(*field.inner);
    case FieldKind::keyed:
      return named(table(*field.inner));
    case FieldKind::list:
      return list(field, table(*field.inner));
  }
  return {};
}

Json table(const Schema& schema) {
  Json properties;
  for (const Field& field : schema.fields) {
    properties[field.name] = value(field);
    properties[field.name]["description"] = field.meaning;
  }
  properties["remove"] = ref("remove");
  return {
      {"type", "object"}, {"properties", std::move(properties)}, {"additionalProperties", false}};
}

Json needs_here(const Schema& schema);

/// The fields that must be there, in the table and in those inside it; null when there are none.
/// What is based on another or switched off for good may lack some.
Json needs(const Schema& schema) {
  Json here = needs_here(schema);
  const bool partial = schema.find("based_on") != nullptr || schema.find("when") != nullptr;
  if (here.is_null() || !partial) return here;
  return {{"if", {{"not", ref("partial")}}}, {"then", std::move(here)}};
}

Json needs_here(const Schema& schema) {
  Json names = Json::array();
  Json inner = Json::object();
  for (const Field& field : schema.fields) {
    if (field.required) names.push_back(field.name);
    if (!field.inner) continue;
    Json inside = needs(*field.inner);
    if (inside.is_null()) continue;
    inner[field.name] = field.kind == FieldKind::table   ? std::move(inside)
                        : field.kind == FieldKind::keyed ? Json{{"additionalProperties", inside}}
                                                         : Json{{"items", inside}};
  }
  Json all;
  if (!names.empty()) all["required"] = std::move(names);
  if (!inner.empty()) all["properties"] = std::move(inner);
  return all;
}

Json kind_is(const std::string& kind) {
  return {{"properties", {{"kind", {{"const", kind}}}}}, {"required", {"kind"}}};
}

/// A module says what it is by its kind. One without changes a module of an included file, or is
/// based on another: it may have any kind's fields.
Json module(const std::vector<NamedSchema>& kinds) {
  Json rules = Json::array();
  Json any = Json::array();
  Json names = Json::array();
  for (const NamedSchema& kind : kinds) {
    names.push_back(kind.name);
    any.push_back(ref(kind.name));
    rules.push_back(
        {{"if", kind_is(kind.name)}, {"then", {{"allOf", {ref(kind.name), needs(*kind.schema)}}}}});
  }
  rules.push_back(
      {{"if", {{"not", {{"required", {"kind"}}}}}}, {"then", {{"anyOf", std::move(any)}}}});
  return {{"type", "object"},
          {"properties", {{"kind", {{"enum", std::move(names)}}}}},
          {"allOf", std::move(rules)}};
}

/// One file's schema as it grows.
class Writer {
 public:
  Writer(const std::string& title, const std::string& meaning) {
    schema_["$schema"] = "https://json-schema.org/draft/2020-12/schema";
    schema_["title"] = title;
    schema_["description"] = meaning;
    schema_["type"] = "object";
    add("format", {{"const", kInputFormat}, {"description", "Version of the file format."}});
    add("include",
        {{"type", "array"},
         {"items", {{"type", "string"}}},
         {"description", "Files whose tables this one builds on, seen from its own folder."}});
    add("values",
        {{"type", "object"},
         {"propertyNames", ref("name")},
         {"additionalProperties", ref("number")},
         {"properties", {{"remove", ref("remove")}}},
         {"description", "Named numbers and expressions that every expression may use."}});
    defs_["number"] = {{"type", {"number", "string"}}};
    defs_["count"] = {{"type", {"integer", "string"}}};
    defs_["name"] = {{"pattern", "^[a-z][a-z0-9_]*$"}};
    const Json based = {{"required", {"based_on"}}};
    const Json off = {{"properties", {{"when", {{"const", false}}}}}, {"required", {"when"}}};
    defs_["partial"] = {{"anyOf", {based, off}}};
    defs_["remove"] = {{"type", "array"},
                       {"items", {{"type", "string"}}},
                       {"description", "Entries of this table in included files to leave out."}};
  }

  void add(const std::string& name, Json what) { schema_["properties"][name] = std::move(what); }
  void define(const std::string& name, Json what) { defs_[name] = std::move(what); }

  void add_table(const NamedSchema& of) {
    Json inside = table(*of.schema);
    inside["description"] = of.schema->meaning;
    add(of.table, of.many ? named(std::move(inside)) : std::move(inside));
    Json wanted = needs(*of.schema);
    if (wanted.is_null()) return;
    needs_[of.table] = of.many ? Json{{"additionalProperties", std::move(wanted)}} : wanted;
  }

  std::string text() {
    schema_["additionalProperties"] = false;
    // What a file leaves out may stand in one that it includes.
    schema_["if"] = {{"not", {{"required", {"include"}}}}};
    schema_["then"] = {{"properties", std::move(needs_)}};
    schema_["$defs"] = std::move(defs_);
    return json_text(schema_);
  }

 private:
  Json schema_;
  Json defs_;
  Json needs_;
};

}  // namespace

std::string project_json_schema() {
  Writer writer(
      "ribbay project file",
      "A project, or stock and equipment that projects include. Quantities are numbers in "
      "the unit of their field, or texts with a unit or an expression.");
  Json options = named({{"type", {"boolean", "string"}}});
  options["description"] =
      "Named conditions that switch tables and parts of expressions on and off.";
  writer.add("options", std::move(options));
  std::vector<NamedSchema> kinds;
  for (const NamedSchema& of : project_schemas()) {
    if (of.vehicle) continue;
    if (of.table == "module") {
      kinds.push_back(of);
      writer.define(of.name, table(*of.schema));
    } else {
      writer.add_table(of);
    }
  }
  writer.define("module", module(kinds));
  writer.add("module", named(ref("module")));
  return writer.text();
}

std::string vehicle_json_schema() {
  Writer writer("ribbay vehicle file", "A van as surveyed from the inside.");
  for (const NamedSchema& of : project_schemas()) {
    if (of.vehicle) writer.add_table(of);
  }
  return writer.text();
}

}  // namespace ribbay

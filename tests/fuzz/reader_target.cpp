#include "../spec/thing.hpp"
#include "promises.hpp"
#include "targets.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

namespace ribbay {

namespace {

void check_numbers(const Record& record) {
  for (const Field& field : thing_schema()->fields) {
    if (!record.has(field.name)) continue;
    if (field.kind == FieldKind::quantity || field.kind == FieldKind::count) {
      promise(std::isfinite(record.number(field.name)), "computed numbers are finite");
    }
  }
}

/// As modules are: left out when their condition says so, based on each other.
SchemaPtr module_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(
      Schema{"module",
             "a module",
             {length_field("width").needed(), length_field("depth").otherwise("self.width / 2"),
              when_field(), based_on_field(), keyed_field("columns", {length_field("width")})}});
  return schema;
}

/// Computes everything there is, and asks where some of it comes from.
void compute_all(const Document& document) {
  Evaluator evaluator(document, thing_resolvers());
  evaluator.check_top_level({"format", "values", "options", "thing", "module"});
  evaluator.declare("thing", thing_schema(), "thing");
  std::vector<std::string> modules;
  const Node* table = document.root.find("module");
  if (table != nullptr && table->table() != nullptr) {
    for (const Entry& entry : *table->table()) {
      modules.push_back("module." + entry.key);
      evaluator.declare(modules.back(), module_schema(), entry.key);
    }
  }
  if (const auto record = evaluator.record("thing")) check_numbers(*record);
  for (const std::string& module : modules) {
    if (evaluator.wanted(module).value_or(false)) (void)evaluator.record(module);
  }
  evaluator.check_values();
  check_findings(evaluator.findings(), Evaluator::kMostFindings);
  for (const char* name : {"thing.width", "thing.place.gap", "values.a", "values.b"}) {
    (void)evaluator.origin(name);
  }
  if (!modules.empty()) (void)evaluator.origin(modules.front());
}

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
  check_findings(document.findings, kMostOfReader);
  compute_all(document.value);
}

}  // namespace ribbay

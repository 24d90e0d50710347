#include "base/text.hpp"
#include "planner.hpp"

#include <algorithm>
#include <array>

/// Which modules a project has, and of what kind each is.
namespace ribbay::detail {

namespace {

/// What expressions and gaps mean by these is no module.
constexpr std::array kReserved = {"options", "self", "values", "vehicle"};

/// True when another module stands on "floor", which is that of the van.
bool others_stand_on_floor(const Node& modules) {
  return std::ranges::any_of(*modules.table(), [](const Entry& module) {
    const Node* place = module.value.find("place");
    const Node* on = place == nullptr ? nullptr : place->find("on");
    return module.key != "floor" && on != nullptr && on->text() != nullptr &&
           *on->text() == "floor";
  });
}

bool is_reserved(const Node& modules, const std::string& name) {
  if (name == "floor") return others_stand_on_floor(modules);
  return std::ranges::find(kReserved, name) != kReserved.end();
}

void report_not_a_table(const Node& modules, Findings& findings) {
  Finding finding = input_error("layout.modules_not_a_table", modules.place);
  findings.push_back(std::move(finding.with("found", std::string(modules.kind_name()))));
}

const Kind* find_kind(const Node* node) {
  const std::string* name = node == nullptr ? nullptr : node->text();
  const auto kind = std::ranges::find(kinds(), name == nullptr ? "" : *name, &Kind::name);
  return kind == kinds().end() ? nullptr : &*kind;
}

/// The kind of "module.NAME".
const Kind* kind_at(const Document& project, const std::string& path) {
  const Node* modules = project.root.find("module");
  const Node* table = modules->find(path.substr(path.find('.') + 1));
  return table == nullptr ? nullptr : find_kind(table->find("kind"));
}

/// A key of the table that was meant to be `kind`.
const Entry* misspelt_kind(const Node& module) {
  if (module.table() == nullptr) return nullptr;
  const std::vector<std::string> wanted = {"kind"};
  const auto found = std::ranges::find_if(*module.table(), [&](const Entry& entry) {
    return entry.value.text() != nullptr && !nearest(entry.key, wanted).empty();
  });
  return found == module.table()->end() ? nullptr : &*found;
}

}  // namespace

/// `written` is the project before its repetitions were written out.
void Planner::declare_modules(const Document& written) {
  const Node* modules = project_.root.find("module");
  if (modules == nullptr) return;
  if (modules->table() == nullptr) return report_not_a_table(*modules, findings_);
  for (const Entry& entry : *modules->table()) {
    if (!is_declarable(written, *modules, entry)) {
      failed_modules_.push_back(entry.key);
      continue;
    }
    const Kind* kind = find_kind(entry.value.find("kind"));
    evaluator_.declare("module." + entry.key, kind->schema, entry.key);
    const auto copy = repeats_.copies.find(entry.key);
    const bool failed = repeats_.failed.contains(entry.key);
    modules_.emplace_back(entry.key,
                          Planned{.kind = kind,
                                  .copy = copy == repeats_.copies.end() ? 1 : copy->second.index,
                                  .placeable = !failed,
                                  .envelope = {},
                                  .parts = {}});
  }
}

/// False after a report.
bool Planner::is_declarable(const Document& written, const Node& modules, const Entry& entry) {
  if (auto finding = made_by_set(entry, modules, "module")) {
    findings_.push_back(std::move(*finding));
    return false;
  }
  if (is_reserved(modules, entry.key)) {
    Finding finding = input_error("layout.reserved_module", entry.key_place);
    finding.subjects = {entry.key};
    findings_.push_back(std::move(finding));
    return false;
  }
  const Node* kind = entry.value.find("kind");
  if (find_kind(kind) == nullptr) {
    unknown_kind(entry, kind);
    return false;
  }
  return !is_based_on_other_kind(written, entry.key);
}

/// Its fields would all be unknown: that is told once.
bool Planner::is_based_on_other_kind(const Document& written, const std::string& name) {
  const auto copy = repeats_.copies.find(name);
  const std::string path = "module." + (copy == repeats_.copies.end() ? name : copy->second.of);
  const auto based = std::ranges::find(written.based_on, path, &BasedOn::table);
  if (based == written.based_on.end()) return false;
  const Kind* own = kind_at(written, path);
  const Kind* base = kind_at(written, based->base);
  if (own == nullptr || base == nullptr || own == base) return false;
  Finding finding = input_error("input.base_of_other_kind", based->place);
  finding.subjects = {path, based->base};
  findings_.push_back(std::move(finding).with("kind", own->name).with("other", base->name));
  return true;
}

void Planner::unknown_kind(const Entry& entry, const Node* kind_node) {
  std::vector<std::string> names;
  for (const Kind& kind : kinds()) names.push_back(kind.name);
  const Entry* misspelt = kind_node == nullptr ? misspelt_kind(entry.value) : nullptr;
  if (misspelt != nullptr) {
    Finding finding = input_error("input.unknown_key", misspelt->key_place);
    const std::string path = "module." + entry.key;
    finding.subjects = {path + "." + misspelt->key};
    finding.with("key", misspelt->key).with("table", path);
    finding.with("allowed", "kind, and what belongs to that kind").with("nearest", "kind");
    findings_.push_back(std::move(finding));
    return;
  }
  Finding finding = input_error(kind_node ? "layout.unknown_kind" : "layout.no_kind",
                                kind_node ? kind_node->place : entry.key_place);
  finding.subjects = {entry.key};
  finding.with("known", join(names, ", "));
  if (kind_node && kind_node->text()) {
    finding.with("found", *kind_node->text());
    const std::string guess = nearest(*kind_node->text(), names);
    if (!guess.empty()) finding.with("nearest", guess);
  }
  findings_.push_back(std::move(finding));
}

}  // namespace ribbay::detail

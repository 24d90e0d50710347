#include "repeat.hpp"

#include "spec/evaluator.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <set>
#include <variant>

namespace ribbay::detail {

namespace {

std::size_t nodes_in(const Node& node) {
  std::size_t count = 1;
  if (node.table() != nullptr) {
    for (const Entry& entry : *node.table()) count += nodes_in(entry.value);
  }
  if (node.array() != nullptr) {
    for (const Node& item : *node.array()) count += nodes_in(item);
  }
  return count;
}

std::string copy_name(const std::string& module, int index) {
  return module + "_" + std::to_string(index);
}

/// How many copies a module asks for, with no help from anything that is placed.
std::optional<int> count_of(const Document& project, const std::string& module) {
  static const SchemaPtr schema = repeat_field().inner;
  Evaluator evaluator(project, {});
  const std::string path = "module." + module + ".repeat";
  evaluator.declare(path, schema);
  const auto count = evaluator.number(path, "count");
  return count ? std::optional(static_cast<int>(*count)) : std::nullopt;
}

class Expander {
 public:
  explicit Expander(const Document& project) : project_{project} {}

  Repeats expand() {
    const Node* modules = project_.root.find("module");
    if (modules == nullptr || modules->table() == nullptr) return {};
    nodes_ = nodes_in(project_.root);
    Node::Table all;
    for (const Entry& entry : *modules->table()) {
      const Node* repeat = entry.value.find("repeat");
      if (repeat == nullptr || !add_copies(*modules, entry, *repeat, all)) all.push_back(entry);
    }
    if (!repeats_.counts.empty()) {
      repeats_.expanded = project_;
      const auto place = std::ranges::find(
          *std::get_if<Node::Table>(&repeats_.expanded->root.value), "module", &Entry::key);
      place->value.value = std::move(all);
    }
    return std::move(repeats_);
  }

 private:
  /// False, with the reason noted, when the module cannot be repeated.
  bool add_copies(const Node& modules, const Entry& entry, const Node& repeat, Node::Table& all) {
    const auto count = count_of(project_, entry.key);
    if (!count) return fail(entry, input_error("layout.repeat_count", place_of(repeat, "count")));
    for (int i = 1; i <= *count; ++i) {
      const Node* other = modules.find(copy_name(entry.key, i));
      if (other == nullptr) continue;
      return fail(entry,
                  input_error("layout.repeat_clash", repeat.place)
                      .with("name", copy_name(entry.key, i))
                      .with("other", other->place.file + ":" + std::to_string(other->place.line)));
    }
    const std::size_t more = nodes_in(entry.value) * static_cast<std::size_t>(*count);
    made_ += *count;
    nodes_ += more;
    if (made_ > kMostRepeated || nodes_ > InputLimits{}.nodes) {
      return fail(entry,
                  input_error("layout.too_many_copies", place_of(repeat, "count"))
                      .with("limit", kMostRepeated, Unit::count)
                      .with("values", static_cast<double>(InputLimits{}.nodes), Unit::count));
    }
    repeats_.counts.emplace(entry.key, *count);
    for (int i = 1; i <= *count; ++i) {
      Entry copy = entry;
      copy.key = copy_name(entry.key, i);
      repeats_.copies.emplace(copy.key, Copy{entry.key, i});
      all.push_back(std::move(copy));
    }
    return true;
  }

  static Place place_of(const Node& repeat, std::string_view field) {
    const Node* node = repeat.find(field);
    return node == nullptr ? repeat.place : node->place;
  }

  bool fail(const Entry& entry, Finding finding) {
    finding.subjects = {entry.key};
    repeats_.failed.emplace(entry.key, std::move(finding));
    return false;
  }

  const Document& project_;
  Repeats repeats_;
  std::size_t nodes_ = 0;
  int made_ = 0;
};

bool in_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/// `text` with the names of copies replaced by that of their module.
std::string without_index(const std::string& text, const std::map<std::string, Copy>& copies) {
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = at;
    while (end < text.size() && in_name(text[end])) ++end;
    const std::string word = text.substr(at, std::max<std::size_t>(end - at, 1));
    const auto copy = copies.find(word);
    result += copy == copies.end() ? word : copy->second.of;
    at += word.size();
  }
  return result;
}

}  // namespace

Repeats expand_repeats(const Document& project) {
  return Expander(project).expand();
}

void tell_once(Findings& findings, const std::map<std::string, Copy>& copies) {
  if (copies.empty()) return;
  Findings told;
  std::erase_if(findings, [&](const Finding& finding) {
    if (!finding.place) return false;
    Finding plain = finding;
    for (std::string& subject : plain.subjects) subject = without_index(subject, copies);
    for (Argument& argument : plain.arguments) {
      if (auto* text = std::get_if<std::string>(&argument.value))
        *text = without_index(*text, copies);
    }
    if (std::ranges::find(told, plain) != told.end()) return true;
    told.push_back(std::move(plain));
    return false;
  });
}

}  // namespace ribbay::detail

#include "reuse.hpp"

#include "base/text.hpp"
#include "merger.hpp"
#include "words.hpp"

#include <algorithm>
#include <unordered_map>

namespace ribbay::detail {

namespace {

constexpr std::size_t kMostFaults = 500;       // told by one document
constexpr std::size_t kMostCandidates = 2000;  // names that are compared for a suggestion

/// The named tables of one top-level table.
class Reuse {
 public:
  Reuse(const std::string& top, Node::Table& tables, Document& document, std::size_t& nodes,
        const InputLimits& limits, Findings& findings)
      : top_(top),
        tables_(tables),
        document_(document),
        nodes_(nodes),
        limits_(limits),
        findings_(findings) {
    for (std::size_t i = 0; i < tables_.size(); ++i) known_.emplace(tables_[i].key, i);
    states_.resize(tables_.size(), State::open);
  }

  void run() {
    for (std::size_t i = 0; i < tables_.size(); ++i) resolve(i);
  }

 private:
  enum class State { open, waiting, done };

  /// Follows the bases down to one that needs none, and comes back up.
  void resolve(std::size_t first) {
    std::vector<std::size_t> way;
    std::optional<std::size_t> next = first;
    while (next && states_[*next] == State::open) {
      states_[*next] = State::waiting;
      way.push_back(*next);
      next = base_of(*next);
    }
    if (next && states_[*next] == State::waiting) report_cycle(way, *next);
    for (; !way.empty(); way.pop_back()) {
      finish(way.back());
      states_[way.back()] = State::done;
    }
  }

  Node::Table* content(std::size_t index) {
    return std::get_if<Node::Table>(&tables_[index].value.value);
  }

  std::string path(std::size_t index) const { return top_ + "." + tables_[index].key; }

  /// Nullopt when the table has no base, or none that can be found, which is reported.
  std::optional<std::size_t> base_of(std::size_t index) {
    const Node::Table* table = content(index);
    const Entry* base = table == nullptr ? nullptr : find_entry(*table, "based_on");
    if (base == nullptr) return std::nullopt;
    if (base->value.text() == nullptr) {
      Finding finding = input_error("input.wrong_base", base->value.place);
      finding.subjects = {path(index)};
      report(std::move(finding).with("found", std::string(base->value.kind_name())));
      return std::nullopt;
    }
    const auto found = known_.find(*base->value.text());
    if (found != known_.end() && content(found->second) != nullptr) {
      bases_[index] = found->second;
      return found->second;
    }
    report_unknown(index, base->value);
    return std::nullopt;
  }

  void report(Finding finding) {
    if (findings_.size() < kMostFaults) findings_.push_back(std::move(finding));
  }

  void report_unknown(std::size_t index, const Node& base) {
    if (findings_.size() >= kMostFaults) return;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < tables_.size() && names.size() < kMostCandidates; ++i) {
      if (i != index && content(i) != nullptr) names.push_back(tables_[i].key);
    }
    Finding finding = input_error("input.unknown_base", base.place);
    finding.subjects = {path(index)};
    finding.with("found", top_ + "." + *base.text()).with("allowed", short_list(names));
    const std::string near = nearest(*base.text(), names);
    if (!near.empty()) finding.with("nearest", near);
    report(std::move(finding));
  }

  void report_cycle(const std::vector<std::size_t>& way, std::size_t again) {
    const auto first = std::ranges::find(way, again);
    Finding finding = input_error("input.base_cycle", {});
    for (auto each = first; each != way.end(); ++each) finding.subjects.push_back(path(*each));
    std::vector<std::string> names = finding.subjects;
    names.push_back(path(again));
    finding.place = find_entry(*content(again), "based_on")->value.place;
    report(std::move(finding).with("path", join(names, " -> ")));
    for (auto each = first; each != way.end(); ++each) bases_.erase(*each);
  }

  /// Lays a table over its base, which is finished.
  void finish(std::size_t index) {
    Node::Table* own = content(index);
    if (own == nullptr || find_entry(*own, "based_on") == nullptr) return;
    const Place place = find_entry(*own, "based_on")->value.place;
    std::erase_if(*own, [](const Entry& entry) { return entry.key == "based_on"; });
    const auto base = bases_.find(index);
    if (base == bases_.end() || !has_room(base->second, place)) return drop_wishes(*own);
    Node::Table merged = *content(base->second);
    std::erase_if(merged, [](const Entry& entry) { return entry.key == "when"; });
    Merger(findings_).merge_reused(merged, std::move(*own));
    *own = std::move(merged);
    document_.based_on.push_back({path(index), path(base->second), place});
  }

  /// False, and an error, when there would be too many values in all.
  bool has_room(std::size_t base, const Place& place) {
    if (nodes_ > limits_.nodes) return false;
    nodes_ += count_nodes(tables_[base].value);
    if (nodes_ <= limits_.nodes) return true;
    report(input_error("input.too_many_values", place)
               .with("limit", static_cast<double>(limits_.nodes), Unit::count));
    return false;
  }

  /// What a table without its base would remove is not there.
  static void drop_wishes(Node::Table& table) {
    std::erase_if(table, [](const Entry& entry) { return entry.key == "remove"; });
    for (Entry& entry : table) {
      if (auto* inner = std::get_if<Node::Table>(&entry.value.value)) drop_wishes(*inner);
    }
  }

  const std::string& top_;
  Node::Table& tables_;
  Document& document_;
  std::size_t& nodes_;
  const InputLimits& limits_;
  Findings& findings_;
  std::unordered_map<std::string_view, std::size_t> known_;
  std::unordered_map<std::size_t, std::size_t> bases_;
  std::vector<State> states_;
};

}  // namespace

std::size_t count_nodes(const Node& node) {
  std::size_t count = 1;
  if (const auto* items = node.array()) {
    for (const Node& item : *items) count += count_nodes(item);
  } else if (const auto* entries = node.table()) {
    for (const Entry& entry : *entries) count += count_nodes(entry.value);
  }
  return count;
}

const Node* child(const Node* node, std::string_view key) {
  if (node == nullptr) return nullptr;
  const Node::Array* items = node->array();
  if (items == nullptr) return node->find(key);
  for (std::size_t i = 0; i < items->size(); ++i) {
    if (std::to_string(i + 1) == key) return &(*items)[i];
  }
  return nullptr;
}

const Node* find_node(const Node& root, std::string_view path) {
  const Node* node = &root;
  for (const std::string& key : split(path)) node = child(node, key);
  return node;
}

void resolve_reuse(Document& document, const InputLimits& limits, Findings& findings) {
  std::size_t nodes = count_nodes(document.root);
  for (Entry& top : std::get<Node::Table>(document.root.value)) {
    auto* tables = std::get_if<Node::Table>(&top.value.value);
    if (tables != nullptr) Reuse(top.key, *tables, document, nodes, limits, findings).run();
  }
  std::ranges::sort(document.based_on, {}, &BasedOn::table);
}

}  // namespace ribbay::detail

#include "merger.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <unordered_map>

namespace ribbay::detail {

namespace {

constexpr int kNamedTable = 2;  // depth of [X.NAME]

}  // namespace

const Entry* find_entry(const Node::Table& table, std::string_view key) {
  const auto found = std::ranges::find(table, key, &Entry::key);
  return found == table.end() ? nullptr : &*found;
}

void Merger::merge(Node::Table& base, Node::Table over, int depth, bool waits) {
  waits = waits || (depth == kNamedTable && (find_entry(base, "based_on") != nullptr ||
                                             find_entry(over, "based_on") != nullptr));
  remove_named(base, over, waits);
  std::unordered_map<std::string_view, std::size_t> known;  // long tables need no search per entry
  base.reserve(base.size() + over.size());  // keys must not move while they are looked up
  for (std::size_t i = 0; i < base.size(); ++i) known.emplace(base[i].key, i);
  for (Entry& entry : over) {
    if (entry.key == "remove") continue;
    const auto found = known.find(entry.key);
    if (found == known.end()) {
      base.push_back(fresh(std::move(entry), depth, waits));
    } else {
      lay_over(base[found->second], std::move(entry), depth, waits);
    }
  }
}

/// A table that is new still has its `remove` looked at.
Entry Merger::fresh(Entry entry, int depth, bool waits) {
  if (auto* inner = std::get_if<Node::Table>(&entry.value.value)) {
    Node::Table merged;
    merge(merged, std::move(*inner), depth + 1, waits);
    entry.value.value = std::move(merged);
  }
  return entry;
}

void Merger::lay_over(Entry& base, Entry over, int depth, bool waits) {
  auto* below = std::get_if<Node::Table>(&base.value.value);
  auto* above = std::get_if<Node::Table>(&over.value.value);
  std::vector<Place> earlier = {base.value.place};
  earlier.insert(earlier.end(), base.value.earlier.begin(), base.value.earlier.end());
  std::erase(earlier, over.value.place);  // of a file that is included twice
  base.key_place = over.key_place;
  if (below != nullptr && above != nullptr) {
    base.value.place = over.value.place;
    merge(*below, std::move(*above), depth + 1, waits);
  } else {
    base.value = fresh(std::move(over), depth, waits).value;
  }
  base.value.earlier = std::move(earlier);
}

void Merger::remove_named(Node::Table& base, const Node::Table& over, bool waits) {
  const Entry* wish = find_entry(over, "remove");
  if (wish == nullptr) return;
  const Node::Array* names = wish->value.array();
  if (names == nullptr) return wrong_remove(wish->value);
  Node::Array kept;
  for (const Node& name : *names) remove_one(base, name, kept, waits);
  if (kept.empty()) return;
  const auto before = std::ranges::find(base, "remove", &Entry::key);
  if (before == base.end()) {
    base.push_back({wish->key, wish->key_place, {std::move(kept), wish->value.place, {}}});
  } else {
    auto& all = std::get<Node::Array>(before->value.value);
    all.insert(all.end(), kept.begin(), kept.end());
  }
}

void Merger::remove_one(Node::Table& base, const Node& wish, Node::Array& kept, bool waits) {
  const bool done_before = reusing_ && wish.array() != nullptr;
  const Node& name = done_before ? wish.array()->front() : wish;
  if (name.text() == nullptr) return wrong_remove(name);
  const bool removed =
      std::erase_if(base, [&](const Entry& e) { return e.key == *name.text(); }) > 0;
  if (waits) {
    // What stands in this table and in its base as well goes from both.
    kept.push_back(removed ? Node{Node::Array{name}, name.place, {}} : name);
  } else if (!removed && !done_before) {
    std::vector<std::string> keys;
    for (const Entry& entry : base) keys.push_back(entry.key);
    Finding unknown = input_error("input.remove_unknown", name.place);
    unknown.subjects = {*name.text()};
    const std::string near = nearest(*name.text(), keys);
    if (!near.empty()) unknown.with("nearest", near);
    findings_.push_back(std::move(unknown));
  }
}

void Merger::wrong_remove(const Node& found) {
  findings_.push_back(
      input_error("input.wrong_remove", found.place).with("found", std::string(found.kind_name())));
}

}  // namespace ribbay::detail

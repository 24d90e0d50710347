#pragma once

#include "spec/document.hpp"

#include <string_view>

namespace ribbay::detail {

/// The entry named `key`, or nullptr.
const Entry* find_entry(const Node::Table& table, std::string_view key);

/// Puts tables over tables. Every fault is told with the place of the file that is laid on top.
///
/// A named table [X.NAME] that is based on another may remove what only that one has. Such wishes
/// are kept, under `remove`, until the table is laid over its base; those that something was
/// removed for already stand there as a list of their own, since they need not find anything more.
class Merger {
 public:
  explicit Merger(Findings& findings) : findings_(findings) {}

  /// Lays the tables of one file over those of another, from the top.
  void merge_files(Node::Table& base, Node::Table over) { merge(base, std::move(over), 0, false); }
  /// Lays the content of [X.NAME] over that of its base.
  void merge_reused(Node::Table& base, Node::Table over) {
    reusing_ = true;
    merge(base, std::move(over), 2, false);
    reusing_ = false;
  }

 private:
  void merge(Node::Table& base, Node::Table over, int depth, bool waits);
  Entry fresh(Entry entry, int depth, bool waits);
  void lay_over(Entry& base, Entry over, int depth, bool waits);
  void remove_named(Node::Table& base, const Node::Table& over, bool waits);
  void remove_one(Node::Table& base, const Node& wish, Node::Array& kept, bool waits);
  void wrong_remove(const Node& found);

  Findings& findings_;
  bool reusing_ = false;
};

}  // namespace ribbay::detail

#pragma once

#include "spec/document.hpp"

namespace ribbay::detail {

/// Gives every table [X.NAME] that says `based_on = "OTHER"` the content of [X.OTHER] beneath its
/// own, and notes it in `document.based_on`.
void resolve_reuse(Document& document, const InputLimits& limits, Findings& findings);

/// A value and all values inside it.
std::size_t count_nodes(const Node& node);

/// The node at a dotted path, or nullptr. A list item is named by its number from 1.
const Node* find_node(const Node& root, std::string_view path);
/// The list item of that number, or the table entry of that name; nullptr when `node` has none.
const Node* child(const Node* node, std::string_view key);

}  // namespace ribbay::detail

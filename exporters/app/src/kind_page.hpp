#pragma once

#include <optional>
#include <string>

namespace ribbay::detail {

/// What parameter files may hold: one line for each kind of table.
std::string list_of_kinds();

/// The parameters of a kind with unit, default, limits and meaning, tables inside it included;
/// nullopt when there is no such kind.
std::optional<std::string> kind_page(const std::string& kind);

/// What to say about a kind that does not exist, with the nearest that does.
std::string unknown_kind(const std::string& kind);

}  // namespace ribbay::detail

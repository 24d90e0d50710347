#pragma once

#include "spec/document.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace ribbay::detail {

/// One TOML 1.0 file as a tree in file order. Fails with "input.empty", "input.not_utf8",
/// "input.syntax", "input.too_deep", "input.text_too_long" or "input.too_many_values".
Result<Node> read_toml(std::string_view bytes, const std::string& file, const InputLimits& limits);

/// A value as it would stand behind `key =`; text that is no TOML value is a string without quotes,
/// so that 520 mm need not be quoted on a command line. Every place in it is `place`, with the
/// columns moved by where they stand in `text`.
Node read_value(std::string_view text, const Place& place, const InputLimits& limits = {});

/// What is wrong with a value that begins like a list, a table or a text in quotes and is none.
std::optional<Finding> fault_of_value(std::string_view text, const Place& place,
                                      const InputLimits& limits);

/// The place of a byte of a string value, given as an offset into the string as read (escapes
/// resolved).
Place place_inside(const Node& string, std::size_t offset);

/// The first line of `text`, shortened to a length that can be shown.
std::string shown(std::string_view text);

}  // namespace ribbay::detail

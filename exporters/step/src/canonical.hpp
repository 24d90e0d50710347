#pragma once

#include <string>
#include <string_view>

namespace ribbay::detail {

/// The STEP file `text` with its entities in an order that depends on nothing but their content.
///
/// The kernel's writer orders some entities by their address in memory and numbers occurrences by a
/// counter that runs on from file to file. Here every entity gets a fingerprint of its text with
/// the fingerprints of what it refers to in place of their numbers; entities that nothing refers to
/// are sorted by type and fingerprint, numbered depth first, and occurrences are counted in that
/// order. Members of a set are sorted by fingerprint where the writer leaves their order to chance,
/// those of equal content by the products that they belong to. Text outside ASCII (UTF-8) becomes
/// \X2\ and \X4\ escapes. Returns an empty string when `text` is not a STEP file.
std::string canonical_step(std::string_view text);

}  // namespace ribbay::detail

#pragma once

#include "changes/changes.hpp"
#include "reuse.hpp"

/// Parts and their features in words.
namespace ribbay::detail {

/// "682 x 300 x 12", in the shown unit.
std::string size_words(const PartRecord& part, LengthStyle show);

/// What is not as before, sizes first. Never empty where same_piece() says no.
std::vector<Difference> differences(const PartsRecord& before, const PartRecord& old,
                                    const PartsRecord& after, const PartRecord& fresh);

/// What is to be done to the old piece, in order: saw, cut, drill, finish.
std::vector<std::string> work_words(const Reuse& reuse, const PartRecord& fresh, LengthStyle show);

/// What a fate is called in tables: "kept", "as other part", "drill", "recut", "make", "gone".
std::string_view name(Fate fate);

}  // namespace ribbay::detail

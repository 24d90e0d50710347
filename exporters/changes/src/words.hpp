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

/// What of its size and stock is not as before. Its holes and cuts are no matter where it is made
/// anew; where nothing else differs, that is said.
std::vector<Difference> size_differences(const PartsRecord& before, const PartRecord& old,
                                         const PartsRecord& after, const PartRecord& fresh);

/// What is to be done to new material, in order.
std::vector<std::string> making_words(const PartRecord& fresh, LengthStyle show);

/// What is to be done to the old piece, in order: saw, cut, drill, finish.
std::vector<std::string> work_words(const Reuse& reuse, const PartRecord& fresh, LengthStyle show);

/// What a fate is called in tables: "kept", "as other part", "drill", "recut", "make", "gone".
std::string_view name(Fate fate);

}  // namespace ribbay::detail

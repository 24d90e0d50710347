#pragma once

#include "catalogue/catalogue.hpp"
#include "spec/record.hpp"

namespace ribbay::detail {

/// Makes a profile with its section from the sizes of its family. Findings about sizes that are
/// missing, not used by the family, or do not make a section go to `findings`, and there is no
/// profile then.
std::optional<Profile> read_profile(const std::string& key, const Record& record,
                                    const Material& material, Findings& findings);

}  // namespace ribbay::detail

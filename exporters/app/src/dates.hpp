#pragma once

#include <optional>
#include <string>

namespace ribbay::detail {

/// The day (UTC) of a count of seconds since 1970 as in SOURCE_DATE_EPOCH, as ISO 8601; empty when
/// there is none or it is not a number.
std::string date_of(const std::optional<std::string>& source_date_epoch);

}  // namespace ribbay::detail

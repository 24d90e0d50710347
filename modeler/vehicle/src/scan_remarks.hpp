#pragma once

#include "reading.hpp"
#include "scan/align.hpp"
#include "scan/clean.hpp"
#include "scan/slice.hpp"

namespace ribbay::detail {

/// What a builder should know about a scan that could be used. Each is a note or a warning.
void remark_scan(Reading& reading, const Record& record, const CleanedScan& cleaned,
                 const Alignment& alignment, const std::vector<ScannedSection>& sections,
                 double uncertainty);

/// By how much a taped station and the scan differ, when it is more than both allow.
void remark_tape(Reading& reading, const Station& taped, const ScannedSection& scanned);

}  // namespace ribbay::detail

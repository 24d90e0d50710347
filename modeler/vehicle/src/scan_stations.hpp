#pragma once

namespace ribbay::detail {

class Reading;
struct RibList;

/// Cuts the scan that [scan] names into stations and adds them to those of the vehicle, which must
/// lie on the skin. The scan and what is to be said of it go to the vehicle too. Where the taped
/// stations were not good only the table itself is checked. False after a report, or when too few
/// stations come together.
bool add_scanned_stations(Reading& reading, bool taped_good, const RibList& ribs);

}  // namespace ribbay::detail

#pragma once

#include <string>
#include <vector>

namespace ribbay {

/// A table as comma-separated values by RFC 4180: every row ends with CR LF, fields that hold a
/// comma, a quote, a line break or an outer space are quoted, and a quote inside is doubled. The
/// first row is the header.
std::string csv_text(const std::vector<std::vector<std::string>>& rows);

}  // namespace ribbay

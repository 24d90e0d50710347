#pragma once

#include "base/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ribbay::detail {

/// One field of a table, where it was written. `text` is without quotes.
struct Cell {
  std::string text;
  Place place;
};

/// Most rows of a table.
inline constexpr std::size_t kMostCsvRows = 100'000;

struct CsvRow {
  std::vector<Cell> cells;
  Place place;
};

/// A table whose rows have one cell for each column of its header.
struct CsvTable {
  CsvRow header;
  std::vector<CsvRow> rows;
};

/// Reads comma-separated values by RFC 4180: fields may be in quotes, with quotes inside doubled;
/// lines end with CR LF, LF or CR. Empty lines, lines of commas alone, columns with neither name nor
/// values at the end and a byte order mark are passed over; spaces around fields without quotes do
/// not count. Tells every fault ("csv.bad_quote", "csv.not_closed", "csv.fields", "csv.title",
/// "csv.separator", "csv.no_rows", "csv.too_many_rows", "input.not_utf8").
Result<CsvTable> read_csv(const std::string& file, std::string_view bytes);

}  // namespace ribbay::detail

#pragma once

#include "base/result.hpp"
#include "spec/schema.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay::detail {

/// A row of the table of pieces. Millimetres.
struct PieceRow {
  std::string label;
  double length = 0.0;
  double width = 0.0;  ///< 0: no column of that name
  int count = 1;
  bool grain = false;
  std::string stock;  ///< empty: no column of that name
  Place place;        ///< of the length
};

/// A row of the table of stock.
struct StockRow {
  std::string name;
  double length = 0.0;
  double width = 0.0;
  std::optional<int> count;
  std::optional<double> price;
  Place place;
};

/// Widths of the saw, as the options give them.
struct SawRow {
  double kerf = 0.0;
  double trim = 0.0;
  double clamp = 0.0;
};

struct CutRows {
  std::vector<PieceRow> pieces;
  std::vector<StockRow> stock;
  SawRow saw;
  std::string currency;  ///< of the prices, when they name one
};

/// Texts of the options; empty ones are 0.
struct SawTexts {
  std::string kerf;
  std::string trim;
  std::string clamp;
};

/// Reads both tables and the options; quantities as in parameter files.
Result<CutRows> read_cut_rows(const std::string& pieces_file, const std::string& stock_file,
                              const SawTexts& saw);

}  // namespace ribbay::detail

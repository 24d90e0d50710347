#pragma once

#include "base/output_file.hpp"
#include "layout/layout.hpp"

namespace ribbay {

/// shop/stock.csv, what is cut, by stock: one row per profile, sheet and plank, sorted by key, and a last one of all.
/// Columns: stock ("total" in the last), title, pieces, length in m (of profiles and planks) or area
/// in m2 (of sheets, the rectangles around the pieces), mass in kg of the finished pieces, and what
/// the material in them costs where it has a price; whole bars and sheets with what falls off are in
/// purchase.csv. A total of costs leaves out what has no price, and says so in the last column.
OutputFile stock_list(const Layout& layout);

}  // namespace ribbay

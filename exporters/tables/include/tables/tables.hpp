#pragma once

#include "base/output_file.hpp"
#include "layout/layout.hpp"

namespace ribbay {

/// What the shop cuts: one row per part type, members first, in the order of part_types(). Columns:
/// mark, title, stock, count, length, width, thickness (the header names the unit; width and
/// thickness are empty for members), grain ("along length" or empty), material, ids of all parts
/// made from this row. Millimetres are printed to 0.001, inches to 1/64, as the project says.
OutputFile cut_list(const Layout& layout);

/// What must be bought: one row per catalogue key of hardware and equipment, sorted by key.
/// Columns: stock, title (the catalogue's, else the part's), kind, count, modules that use it.
OutputFile hardware_list(const Layout& layout);

/// Both lists: shop/cutlist.csv and shop/hardware.csv.
OutputFiles shop_tables(const Layout& layout);

}  // namespace ribbay

#pragma once

#include "base/text.hpp"
#include "shop/sheets.hpp"

#include <string>

namespace ribbay::detail {

/// "1250 x 600", in the unit shown.
std::string size_words(const SheetPart& part, LengthStyle show);

/// What a part is called on the table: the sheet, a part with its number, a piece by its label, a
/// rest by its size.
std::string part_words(const SheetOrder& order, const SheetLayout& layout, std::size_t part,
                       LengthStyle show);

/// True when the part is sawn further.
bool is_cut_on(const SheetLayout& layout, std::size_t part);

}  // namespace ribbay::detail

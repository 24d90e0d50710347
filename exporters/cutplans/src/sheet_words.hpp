#pragma once

#include "base/text.hpp"
#include "shop/sheets.hpp"

#include <string>

namespace ribbay::detail {

/// "1250 x 600", in the unit shown.
std::string size_words(const SheetPart& part, LengthStyle show);
/// The size of a piece as it lies on the sheet, as its drawing and its label say it.
std::string piece_size_words(const SheetPiece& piece, bool turned, LengthStyle show);

/// What a part is called on the table: the sheet, a piece by its label, what is cut further by the
/// pieces in it, a rest by its size.
std::string part_words(const SheetOrder& order, const SheetLayout& layout, std::size_t part,
                       LengthStyle show);

/// True when the part is sawn further.
bool is_cut_on(const SheetLayout& layout, std::size_t part);

}  // namespace ribbay::detail

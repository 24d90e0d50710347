#pragma once

#include "base/text.hpp"
#include "catalogue/catalogue.hpp"

#include <string>
#include <string_view>

namespace ribbay {

/// The entries of one table of the catalogue ("sheet", "equipment"), a line each: its key and what
/// the shop calls it. Empty when the table has none or there is no such table.
std::string stock_page(const Catalogue& catalogue, std::string_view table);

/// The same of the entries that serve a purpose, as the reference names it: "wood screw" or
/// "wood_screw", "edge band", "leg". Empty when there are none.
std::string purpose_page(const Catalogue& catalogue, std::string_view purpose);

/// What somebody who plans with an equipment wants to know: size and mass, the free air it needs,
/// faces that get hot, its own doors, fixing holes, and each port with its kind, place, the side it
/// leaves through and its diameter. Places count from the lower front left corner of its main body:
/// to the right, to the back, up.
std::string equipment_page(const Equipment& item, LengthStyle show);

}  // namespace ribbay

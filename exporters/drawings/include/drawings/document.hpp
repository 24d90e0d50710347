#pragma once

#include "drawings/sheet.hpp"
#include "layout/layout.hpp"

#include <string>

/// What the title blocks of one project have in common.
namespace ribbay {

/// The fields that are the same on every page: owner, date, status, projection; sheet 1/1.
TitleBlock title_block(const Layout& layout, bool not_for_cutting);

/// The identification number of a document: "MARSH-M1" of the project marsh.
std::string document_number(const Layout& layout, const std::string& suffix);

}  // namespace ribbay

#pragma once

#include "layout/layout.hpp"

#include <string>

/// What a part is, in the words of its page.
namespace ribbay {

/// What the parts of a type are called: one name, two, or the first and how many more there are.
std::string titles_of(const Layout& layout, const PartType& type);
/// What a module is called: its title, or its name.
std::string module_title(const Layout& layout, const std::string& name);
/// Catalogue title of a material, or its key.
std::string material_title(const Layout& layout, const std::string& key);
/// Catalogue title of a part's stock, or its key.
std::string stock_title(const Layout& layout, const Part& part);
/// The finishes that cover it, by title; "as supplied" without.
std::string finish_text(const Layout& layout, const Part& part);
/// "40 x 40 x 1500", "600 x 400 x 12".
std::string size_text(const Layout& layout, const Part& part);
std::string mass_text(double kg);
/// True when a band goes onto some of its sawn edges: its sizes are those before.
bool has_edge_band(const Layout& layout, const Part& part);

/// Fit for the name of a file: small letters, digits and single hyphens.
std::string file_name(const std::string& text);

}  // namespace ribbay

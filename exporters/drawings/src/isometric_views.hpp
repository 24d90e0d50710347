#pragma once

#include "module_contents.hpp"
#include "scene.hpp"

#include <optional>
#include <set>
#include <string>

/// Pictures of a module that name its parts.
namespace ribbay::detail {

/// Isometric views until everything has its balloon: the first of the whole module, each further
/// one without the panels that the ones before have shown. Returns the references that none shows;
/// nothing when not even the first finds room.
std::optional<std::set<std::string>> add_isometrics(Drawing& d, const PageSet& set,
                                                    const Module& module,
                                                    const ModuleContents& contents,
                                                    const ViewFrame& view, double largest,
                                                    const Rect& area);

}  // namespace ribbay::detail

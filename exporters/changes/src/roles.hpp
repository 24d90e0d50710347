#pragma once

#include "layout/layout.hpp"
#include "shape/shape.hpp"

#include <array>
#include <string_view>
#include <utility>

/// Names of roles and kinds as parts.json writes them. They are part of its format.
namespace ribbay::detail {

inline constexpr std::array<std::pair<std::string_view, CutRole>, 6> kCutRoles{{
    {"cut_out", CutRole::cut_out},
    {"notch", CutRole::notch},
    {"dado", CutRole::dado},
    {"rebate", CutRole::rebate},
    {"groove", CutRole::groove},
    {"toe_space", CutRole::toe_space},
}};

inline constexpr std::array<std::pair<std::string_view, BoreRole>, 9> kBoreRoles{{
    {"bolt", BoreRole::bolt},
    {"screw", BoreRole::screw},
    {"pilot", BoreRole::pilot},
    {"end_tap", BoreRole::end_tap},
    {"access", BoreRole::access},
    {"shelf_pin", BoreRole::shelf_pin},
    {"cup", BoreRole::cup},
    {"handle", BoreRole::handle},
    {"dowel", BoreRole::dowel},
}};

inline constexpr std::array<std::pair<std::string_view, PartKind>, 4> kMadeKinds{{
    {"member", PartKind::member},
    {"panel", PartKind::panel},
    {"plank", PartKind::plank},
    {"folded", PartKind::folded},
}};

inline constexpr std::array<std::pair<std::string_view, LengthStyle>, 2> kLengthStyles{{
    {"mm", LengthStyle::millimetres},
    {"in", LengthStyle::inches},
}};

/// Precondition: `role` stands in `names`.
template <class Names, class Role>
std::string_view name_in(const Names& names, Role role) {
  for (const auto& [name, value] : names) {
    if (value == role) return name;
  }
  return names.front().first;
}

/// The format version of parts.json. A reader refuses newer ones.
inline constexpr int kPartsSchema = 1;

}  // namespace ribbay::detail

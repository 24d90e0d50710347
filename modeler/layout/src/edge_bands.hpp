#pragma once

#include "workshop.hpp"

/// Edge bands on boards: what is sawn is smaller by the band's thickness on each edge that has it.
namespace ribbay::detail {

/// The sides of an outline that look one of these ways: unit directions in its plane.
std::vector<std::size_t> sides_looking(const Loop& outline, const std::vector<Vec2>& ways);

/// The outline that is sawn, before the band goes on.
Loop sawn_outline(const ShapedBoard& board);

/// The covering that makes `part`, which stands where `board` was sawn for, as large as the board
/// is said to be.
Covering band_covering(const ShapedBoard& board, const Part& part, const ModuleRequest& request);

}  // namespace ribbay::detail

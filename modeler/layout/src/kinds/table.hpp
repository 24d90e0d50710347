#pragma once

#include "carcass.hpp"

/// The table in parts: table.cpp reads its fields, table_wall.cpp makes the leaf that drops at a
/// wall, table_post.cpp the one that lifts off its posts.
namespace ribbay::detail {

struct TableWork : Carcass {
  const Sheet* top = nullptr;
  const Finish* band = nullptr;  ///< or null

  AskedBy asked(std::string_view field) const { return {request.fields, request.name, field}; }
  /// z of the top's underside.
  double under() const { return request.size.z - top->thickness; }
};

/// The top from (0, 0) to `size`, its front corners rounded, the rear ones too where they are free;
/// banded all round but for a rear edge that is not free. False after "table.radius_too_large".
bool add_top(const TableWork& work, Vec2 size, bool rear_free);

/// Keeps the room under the top free for knees, from y0 to y1.
void add_knee_room(const TableWork& work, double y0, double y1);

void make_wall_table(const TableWork& work);
void make_post_table(const TableWork& work);

}  // namespace ribbay::detail

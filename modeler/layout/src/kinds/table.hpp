#pragma once

#include "folding_leg.hpp"

/// The table in parts: table.cpp reads its fields, table_wall.cpp makes the leaf that drops at a
/// wall, table_post.cpp the top that lifts off its posts, table_slide.cpp the one that slides out,
/// table_leg.cpp the leg that folds.
namespace ribbay::detail {

/// Middle of a leg's plate from the top's front edge and its ends (common practice, no source).
inline constexpr double kLegInset = 120.0;

struct TableWork : Carcass {
  const Sheet* top = nullptr;
  const Finish* band = nullptr;  ///< or null

  AskedBy asked(std::string_view field) const { return {request.fields, request.name, field}; }
  /// z of the top's underside.
  double under() const { return request.size.z - top->thickness; }
};

/// The top from `from` to `to`, its underside at `under`, its front corners rounded, the rear ones
/// too where they are free; banded all round but for a rear edge that is not free. False after
/// "table.radius_too_large".
struct TopPlace {
  Vec2 from;
  Vec2 to;
  double under = 0.0;
  bool rear_free = false;
};
bool add_top(const TableWork& work, const TopPlace& place);

/// Keeps the room below `under` free for knees, from y0 to y1.
void add_knee_room(const TableWork& work, double y0, double y1, double under);

/// Where a folding leg is fixed.
struct LegPlace {
  double y = 0.0;
  double under = 0.0;   ///< z of the face that it is screwed to
  std::string board;    ///< that carries it
  bool folded = false;  ///< as laid out; else it stands on the floor
  Vec3 brought{};       ///< how far the top goes before the leg moves
  std::string after{};  ///< id of the motion that does that, or empty
};
/// The table's leg, if it has one.
Leg add_leg(const TableWork& work, const LegPlace& place);

void make_wall_table(const TableWork& work);
void make_post_table(const TableWork& work);
void make_slide_table(const TableWork& work);
/// Reports slides that bear less than what rides on them; once the parts are made.
void check_slide_load(const TableWork& work);

}  // namespace ribbay::detail

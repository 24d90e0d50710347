#pragma once

#include "carcass.hpp"

/// Boards that follow a side wall, and are held by the ribs behind them.
namespace ribbay::detail {

/// True when the module's back looks to a side wall.
bool backs_to_wall(const ModuleRequest& request);

/// How far back the room reaches between x0 and x1, as points (y, z) that rise over the module's
/// whole height; module axes, `gap` kept from walls and ribs, and nothing beyond the envelope.
/// Straight lines join them. Empty when the room does not reach that far.
std::vector<Vec2> wall_line(const ModuleRequest& request, double x0, double x1, double gap);

/// The least y of such a line from z0 to z1.
double nearest_wall(const std::vector<Vec2>& line, double z0, double z1);

/// A rib behind the module's back.
struct RibBehind {
  const Rib* rib = nullptr;
  double x = 0.0;  ///< its middle, module axes
};

/// The ribs of that wall from x0 to x1 that pass the height z, rising x; all in module axes.
std::vector<RibBehind> ribs_behind(const ModuleRequest& request, double x0, double x1, double z);

/// A screw into a rib.
struct RibScrew {
  std::string name;
  const Bolt* screw = nullptr;
  Vec3 at;                          ///< where its head rests
  Vec3 direction;                   ///< unit, to its tip
  double clamped = 0.0;             ///< thickness of the boards that it holds
  std::vector<std::string> boards;  ///< names; the one that lies at the rib comes first
};
/// Adds it and joins the first board to the rib; warns "layout.bolt_too_short".
void screw_to_rib(const Carcass& carcass, const RibScrew& screw, const Rib& rib);

/// Warns "carcass.few_ribs" when a board is held by fewer than two.
void check_ribs(const Carcass& carcass, const std::string& board, std::size_t ribs);

}  // namespace ribbay::detail

#pragma once

#include "layout/layout.hpp"

#include <string>
#include <string_view>
#include <vector>

/// How equipment that has failed is taken out, step by step.
namespace ribbay {

enum class RemovalAct {
  disconnect,  ///< a hose, cable or duct
  undo,        ///< fasteners
  release,     ///< by hand: the locks of slides
  bring_out,   ///< what it stands on, by its own motion
  take_out     ///< itself
};

/// "disconnect", "undo", "release by hand", "bring out", "take out".
std::string_view name(RemovalAct act);

struct RemovalStep {
  RemovalAct act = RemovalAct::undo;
  std::string what;   ///< "cable plus", "Wood screw 4 x 40", "Battery 12 V, 100 Ah"
  int count = 0;      ///< of fasteners
  std::string tool{};  ///< "screwdriver", "hexagon key 4 mm"; empty: not known, or none
  std::vector<std::string> ids{};  ///< of the fasteners, or of what comes out
  Vec3 direction{};                ///< unit, in the van, of what is brought or taken out
  double travel = 0.0;             ///< mm
};

/// The steps in order: what is connected, what holds it, and the way out. Fasteners that are alike
/// and follow each other are one step. Screws need a screwdriver; a machine screw's drive is a
/// hexagon key when it is well within its head, else a spanner (common practice, no source).
std::vector<RemovalStep> removal_steps(const Layout& layout, const Removal& removal);

/// "screwdriver", "hexagon key 4 mm", "spanner 13 mm"; empty: not known. As above.
std::string tool_for(const Bolt& bolt);
/// True when its drive is a hexagon socket in its head, and not the head itself.
bool has_socket(const Bolt& bolt);

/// The removals of equipment, in the layout's order: hatches and lids come off too, but do not fail.
std::vector<const Removal*> equipment_removals(const Layout& layout);

}  // namespace ribbay

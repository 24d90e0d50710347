#pragma once

#include "module_contents.hpp"
#include "scene.hpp"

#include <vector>

/// Where drawers, doors and flaps go at most.
namespace ribbay::detail {

/// A part at the end of the last motion that takes it along.
struct OpenPart {
  std::size_t part;      ///< index into Layout::parts
  const Motion* motion;  ///< the last one
  Frame frame;           ///< shape to van, then
};

/// `frame` after the motion has gone `by`, mm or radians, on its way.
Frame moved(const Frame& frame, const Motion& motion, double by);

/// Where a part is when the motion begins: those before it have gone all their way.
Frame frame_before(const Layout& layout, const Motion& motion, const Part& part);

/// Members, panels and equipment of a module that move, each at the end of its way. A row of
/// motions, one after the other, is gone through to its end.
std::vector<OpenPart> open_parts(const Layout& layout, const ModuleContents& contents);

/// scene_of() for them: one body for each, in their order.
SceneBodies scene_of(const Layout& layout, const std::vector<OpenPart>& parts, double scale);

}  // namespace ribbay::detail

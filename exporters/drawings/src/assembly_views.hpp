#pragma once

#include "drawings/views.hpp"
#include "module_contents.hpp"
#include "scene.hpp"

#include <array>
#include <vector>

/// The three views of a module on its assembly drawing.
namespace ribbay::detail {

/// What one view shows, in its picture's coordinates.
struct AssemblyView {
  ViewFrame frame;
  Drawn fixed;    ///< what stays where it is
  Drawn context;  ///< drawers and doors, shut, and equipment
  Drawn open;     ///< the extreme positions of what moves, where this view shows the way there
  Rect ink;       ///< all of the above
  Rect made;      ///< what the overall sizes measure: members and panels
  ViewPlace place{};
};

struct AssemblyViews {
  AssemblyView front;
  AssemblyView top;
  AssemblyView side;
  SceneBodies fixed;
  SceneBodies context;
  SceneBodies open;
};

AssemblyViews views_of(const Layout& layout, const Module& module, const ModuleContents& contents,
                       double scale);

/// Puts the three views onto the page, by the project's projection method, with the sizes that
/// place the module's parts. Returns false when they do not fit.
bool add_views(Drawing& d, const Layout& layout, const ModuleContents& contents,
               AssemblyViews& views, const Rect& area, double scale);

}  // namespace ribbay::detail

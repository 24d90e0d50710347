#pragma once

#include "drawings/drawing.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// A quick no for most texts: no letter is wider than 1.1 times its height, gap included.
bool may_reach(const InkText& text, const Rect& rect);

/// What stands on a drawing, for many questions about one state of it: the drawing outlives this
/// and must not change meanwhile.
class Obstacles {
 public:
  explicit Obstacles(const Drawing& drawing);

  /// See is_free().
  bool free(const Rect& rect, double clearance);

 private:
  const Rect& text_box(std::size_t text);
  const std::vector<Vec2>& arc_points(std::size_t arc);

  const Drawing& drawing_;
  std::vector<std::optional<Rect>> texts_;  ///< as far as they were asked for
  std::vector<std::vector<Vec2>> arcs_;     ///< the same
};

}  // namespace ribbay::detail

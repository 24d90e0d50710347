#pragma once

#include "drawings/drawing.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace ribbay {

/// The side of a view on which dimensions stand.
enum class ViewSide { bottom, top, left, right };

/// One size between two places on an axis of a view.
struct LinearDimension {
  ViewSide side = ViewSide::bottom;
  double from = 0.0;  ///< model coordinates along the axis, mm
  double to = 0.0;
  double near_from = 0.0;  ///< where the extension lines start, paper coordinate across the axis
  double near_to = 0.0;
};

/// Positions measured from one datum edge along one line: superimposed running dimensions of ISO
/// 129-1 (from memory: origin marked by a circle, one arrow per value, values at the ends of the
/// extension lines).
struct RunningDimensions {
  ViewSide side = ViewSide::bottom;
  double datum = 0.0;
  double near_datum = 0.0;
  struct Station {
    double at = 0.0;    ///< model coordinate
    double near = 0.0;  ///< where its extension line starts on paper
  };
  std::vector<Station> stations;
  /// Ends of the overall size along the same axis, model coordinates: values stay between them
  /// where they can, clear of its extension lines. Without, between the ends of the view.
  std::optional<std::pair<double, double>> within{};
};

/// A view on paper: its outline, and where model coordinates lie along both axes.
struct ViewPlace {
  Rect outline;
  AxisMap x;
  AxisMap y;
  int view = -1;  ///< index into Drawing::views, or -1

  /// Views are broken along x alone.
  double scale() const { return (y.paper(1000.0) - y.paper(0.0)) / 1000.0; }
};

struct DimensionStyle {
  double height = 2.5;  ///< of letters
  double first = 8.0;   ///< from the outline to the first dimension line
  double pitch = 7.0;   ///< between dimension lines
  Pen pen{LineType::continuous, 0.25};
  LengthStyle show = LengthStyle::millimetres;
};

/// The positions of at most a few stations become linear dimensions from the datum, more become
/// running ones; either way each position is given once.
struct AxisPlan {
  ViewSide side = ViewSide::bottom;
  double datum = 0.0;
  double end = 0.0;  ///< the overall size runs from datum to end
  bool overall = true;
  std::vector<double> positions;  ///< without datum and end
};

/// Draws dimensions beside a view. Running dimensions take the first track; linear ones follow
/// outside, the shorter nearer to the view, each on the first track that is free over its length
/// (interval colouring). Then the values are placed, least slack first: in the middle, shifted
/// along, beside the arrows, and last with a leader. Returns false when some value found no place;
/// what was drawn then is of no use.
bool add_dimensions(Drawing& drawing, const ViewPlace& view,
                    const std::vector<LinearDimension>& linear,
                    const std::vector<RunningDimensions>& running, const DimensionStyle& style);

/// The same for whole axes: overall sizes, and positions from their datum. Extension lines begin at
/// the outermost ink of the view in line with them; at its outline where there is none.
bool add_axis_dimensions(Drawing& drawing, const ViewPlace& view, const std::vector<AxisPlan>& axes,
                         const DimensionStyle& style);

/// Room that the dimensions of an axis take beside the view, mm.
double depth_of(const AxisPlan& axis, const DimensionStyle& style);

/// Moves `wanted` (rising) as little as possible, in the sum of squares, so that neighbours are
/// `apart` and all lie within lo..hi. Empty when that is not possible.
std::vector<double> spread(std::vector<double> wanted, double apart, double lo, double hi);

}  // namespace ribbay

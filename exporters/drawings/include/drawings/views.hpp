#pragma once

#include "drawings/dimension.hpp"
#include "drawings/drawing.hpp"
#include "drawings/panel_study.hpp"
#include "drawings/sheet.hpp"
#include "drawings/visible_lines.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

/// Putting pictures and notes on paper.
namespace ribbay {

/// The area that a picture covers, in mm of the scene.
Rect bounds_of(const Drawn& drawn);

/// Which stretches of the horizontal axis of a picture are drawn; what lies between is broken out.
using Kept = std::vector<std::pair<double, double>>;

/// Ink of a picture. `owner_of[body]` is the index into Drawing::owners, or -1; may be empty. With
/// `kept` given, lines are cut at the breaks and the breaks are marked.
void add_view(Drawing& drawing, const Drawn& drawn, const ViewPlace& place, Pen visible, Pen hidden,
              const std::vector<int>& owner_of = {}, const Kept& kept = {});

/// A picture at one scale with its lower left corner at `corner`.
ViewPlace place_view(const Rect& picture, double scale, Vec2 corner);

/// Enters a view into the drawing: what add_view() then draws there belongs to it.
ViewPlace open_view(Drawing& drawing, ViewPlace place);

/// True when `rect` is free, and free of the blank parts of views too.
bool view_free(const Drawing& drawing, const Rect& rect, double clearance);

/// A note with a leader that ends at `anchor`: looks for the nearest free spot. `avoid` is kept
/// free of the text. Returns false when there is none.
bool add_callout(Drawing& drawing, Vec2 anchor, const std::string& text, double height, Pen pen,
                 const std::vector<Rect>& avoid = {}, bool dot = false);

/// A text as near to `at` as free space allows, without leader, and nearer to it than to any of
/// `others`. Returns false when none is within `reach`.
bool add_label(Drawing& drawing, Vec2 at, const std::string& text, double height, double reach,
               const std::vector<Vec2>& others = {}, double clearance = 0.8);

/// A double arrow along the grain, on a free spot of the face, outside of `gone`; above or below
/// the face when what is left of it has no room.
bool add_grain(Drawing& drawing, const ViewPlace& face, bool upwards, double letters,
               const std::vector<Rect>& gone);

/// An arrow "UP", or "FRONT" downwards, by how the face's part stands in its module; none when the
/// picture's up says nothing. Like the grain's.
bool add_pose(Drawing& drawing, const ViewPlace& face, PanelUp up, double letters,
              const std::vector<Rect>& gone);

/// The largest free spot for a `size` rectangle, scanned from the upper right.
std::optional<Vec2> free_spot(const Drawing& d, const Rect& area, Vec2 size);

/// Each note in lines of at most `width`, broken between words.
std::vector<std::string> wrapped(const std::vector<std::string>& notes, double width,
                                 double height);

/// Lines of text, from `corner` (upper left) downwards, wrapped to `width`. Returns the height
/// used.
double add_notes(Drawing& drawing, const std::vector<std::string>& notes, Vec2 corner, double width,
                 double height);
double notes_height(const std::vector<std::string>& notes, double width, double height);

}  // namespace ribbay

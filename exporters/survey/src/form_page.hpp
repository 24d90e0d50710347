#pragma once

#include "drawings/drawing.hpp"
#include "base/paper.hpp"
#include "survey/blanks.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// An empty page with its heading; the frame is what may be written on.
Drawing form_page(const SurveyOptions& options, int page, int pages);

/// What is left below the heading.
Rect body_of(const Drawing& page);

/// Writes `text`, broken between words, from the upper left corner `at` down; returns the y below
/// it.
double add_paragraph(Drawing& page, const std::string& text, Vec2 at, double width, double height);

/// A heading and a row for each blank of a table, from the upper left corner `at` down; returns the
/// y below it.
double add_blanks(Drawing& page, const BlankTable& table, Vec2 at, double width, double row);

/// Height that add_blanks() takes.
double height_of_blanks(const BlankTable& table, double row);

/// The grid of one station: heights in rows from the roof down to the floor, as one looks at a
/// wall.
void add_station(Drawing& page, const BlankTable& station, const BlankTable& across,
                 const Rect& area);

}  // namespace ribbay::detail

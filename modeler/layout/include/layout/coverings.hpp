#pragma once

#include "layout/layout.hpp"

/// How much of a finish a part takes: for mass and for what the shop buys.
namespace ribbay {

/// Area that a covering covers, mm2: its faces without what is cut out of them, its edges, and what
/// a film turns over onto the back (perimeter x turn_over: corners are folded double). Dados and
/// rebates are left bare, to be glued.
double covered_area(const Part& part, const Covering& covering);

/// Length of the edges that a covering lies on, mm; a rounded corner counts half to each side.
double covered_length(const Part& part, const Covering& covering);

/// Size of the piece of film that wraps a part: its face (or flat pattern) and, at each side, the
/// thickness of the sheet and the turn-over, mm.
Vec2 wrap_blank(const Part& part, const Covering& covering);

/// True when the covering lies on every edge of the part's outline.
bool covers_all_edges(const Part& part, const Covering& covering);

}  // namespace ribbay

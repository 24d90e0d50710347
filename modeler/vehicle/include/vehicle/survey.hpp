#pragma once

#include "base/finding.hpp"
#include "spec/document.hpp"
#include "vehicle/vehicle.hpp"

namespace ribbay {

/// The blanks of a measuring form that are still empty texts, one finding for each table:
/// "survey.blanks" with their numbers (from the remarks "# 17" beside them) or, where a line has
/// none, their keys.
Findings empty_blanks(const Document& document);

/// Doubts about a survey: readings that contradict each other, and readings that their
/// surroundings do not explain. `document` is what `vehicle` was read from, for places.
///
/// Errors: two readings of one thing differ by more than their uncertainties.
///   survey.full          left + right against the width from wall to wall: more than the three
///                        uncertainties together
///   survey.diagonal      a taped diagonal against the distance of its ends. Allowed is the sum,
///                        each by its share of the direction, of the uncertainties of both half
///                        widths across, and of two readings along and two upward; and one reading
///                        more for the tape on the diagonal. Such a reading is as uncertain as the
///                        worst half width of the vehicle.
/// Warnings: a van may be like that, but most are not.
///   survey.crossed       left and right fit the neighbours better the other way round
///   survey.centre_line   all of a station lies to one side of its neighbours
///   survey.station       a whole station is wider or narrower than its neighbours explain
///   survey.out_of_line   one half width
///   survey.one_of        one of several half widths at the same height of two or three stations,
///                        where nothing tells which
///   survey.order         x of a station against the order in which the stations are written
///   survey.height        one height of a station that has its own
///   survey.sides         left against right at one height, where neither can be singled out
///   survey.rib_row       a row of ribs does not end where its last one was measured: x + (count -
///                        1) pitch against last, by more than the readings of its two ends and 3 mm
///                        for ribs that are not set to the mm. An uncertain pitch explains nothing:
///                        over a whole row its error adds up, and that is what is looked for
///
/// A reading is compared with the stations beside it, on a straight line between them (in front of
/// or behind the last two, the line goes on). What all readings of its station deviate by is the
/// van's own curvature: doubtful is what leaves the range of the others by more than the
/// uncertainties of all readings involved, the slope of the wall times that of the height, and 3 mm
/// for pressed sheet. The range leaves out the outermost sixth at either end, so that one slip does
/// not hide another. Found worst first; each is set right before the next is looked for.
///
/// Where changing over two neighbouring digits as written, or a factor of 10 or 25.4, makes the
/// reading fit, the finding says so (arguments "swapped", "slip").
Findings check_survey(const Vehicle& vehicle, const Document& document);

/// The same for a vehicle that cannot be read, by its stations and ribs alone: a slip in a wall
/// makes mistakes of what is checked against the wall. Empty when even the stations cannot be read.
/// Precondition: the root of `document` is a table.
Findings check_stations_alone(const Document& document);

}  // namespace ribbay

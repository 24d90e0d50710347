#pragma once

#include "base/output_file.hpp"
#include "layout/layout.hpp"

namespace ribbay {

/// What the shop cuts: one row per part type, members first, in the order of part_types(). Columns:
/// mark, title, stock, count, length, width, thickness (the header names the unit; width and
/// thickness are empty for members; bare, without bands), grain ("along length" or empty), what is
/// drilled into the ends of a member, which edges are banded, material, mass in kg of one piece as
/// finished, ids of all parts made from this row. Millimetres are printed to 0.001, inches to 1/64, as
/// the project says.
OutputFile cut_list(const Layout& layout);

/// What must be bought: one row per catalogue key of hardware and equipment, sorted by key.
/// Columns: stock, title (the catalogue's, else the part's), kind, count, modules that use it.
OutputFile hardware_list(const Layout& layout);

/// Planks in the order they are laid: one row per board, by module and then counted from the datum
/// edge. Columns: module, order, mark, stock, length, width over all, groove and tongue ("yes" or
/// "sawn off"), gap to the next board, id.
OutputFile board_map(const Layout& layout);

/// What is covered with what: by finish, one row for parts that are alike and covered alike, and a
/// last one of what to buy, with waste. Columns: finish, title, kind, mark ("total" in the last),
/// part, count, covers, area in m2, coats, waste in percent, amount, its unit ("l", "m2" or "m"),
/// length and width of the blank that is cut of film, ids.
OutputFile finish_list(const Layout& layout);

/// Every hole of all that is made: by part type and face, one row for each. Columns: mark,
/// title, stock, count (of parts like it), face (by the letters and sides of the drawings), along and
/// across (where the drill enters), diameter, depth (empty when it goes through), through, thread, lean
/// (degrees from square to the face, empty when square), for. Settings as on the drawings: members from
/// end 1, and across from the lower edge of the face with end 1 to the left, in ends from the middle of
/// the section; panels from the lower left corner of face A with their length lying, also for holes
/// from face B; in edges along from the left or lower corner and across from face A. Parts that
/// are bent have their holes where they lie on the blank.
OutputFile drilling_list(const Layout& layout);

/// Why each bolt and screw has its length: one row for those that are alike and sit alike, by key.
/// Columns: stock, title, length, what lies under the head ("Corner bracket 40, 5 + slot lips
/// 4.5"), how thick that is together, what holds the thread, how far the thread goes in, shortest
/// and longest length that would do (empty: any), verdict ("reaches", "too short", "too long", "not
/// known"), count, ids.
OutputFile fastener_list(const Layout& layout);

/// How each piece of equipment is taken out when it has failed: one row per step, in order. Columns:
/// part, title, expected life in years, step, what is to do, with what, number of fasteners, tool
/// (empty: not known), way and travel of what comes out, ids of the fasteners or of what comes out.
OutputFile removal_list(const Layout& layout);

/// The lists that the project has something for: shop/cutlist.csv and shop/hardware.csv always, shop/fasteners.csv when there are bolts or screws, shop/drilling.csv when something is drilled, shop/boards.csv when there are planks, shop/finishes.csv when something is covered,
/// shop/removal.csv when there is equipment that comes out.
OutputFiles shop_tables(const Layout& layout);

}  // namespace ribbay

#pragma once

#include "shape/region.hpp"

/// Common sections as regions, in mm, centred on their bounding box. What the sizes cannot make
/// (webs that do not connect, radii that do not fit) is told by fault().
namespace ribbay {

/// Rectangular bar: `width` along x, `height` along y.
Region flat_section(double width, double height, double radius = 0.0);

/// I-beam of height `h` along y and flange width `b`, with parallel flanges: web `tw`, flanges
/// `tf`, four root fillets `r` (the shape of EN 10365 and of the Aluminum Association standard
/// I-beams).
Region i_beam_section(double h, double b, double tw, double tf, double r);

/// Rectangular or square hollow section: `h` along y, `b` along x, wall `t`, corner radii `r_out`,
/// `r_in`. EN 10219-2 calculates with r_out = 2 t and r_in = t up to 6 mm wall, EN 10210-2 with 1.5
/// t and 1 t.
Region hollow_section(double h, double b, double t, double r_out, double r_in);

/// Round tube; a solid bar when the wall reaches the centre.
Region tube_section(double diameter, double wall);

/// Angle: legs `a` along y and `b` along x, both `t` thick, heel at the lower left. Root fillet
/// `r_root`, toes rounded by `r_toe` on the inside (EN 10056-1).
Region angle_section(double a, double b, double t, double r_root, double r_toe);

/// Channel: web `t_web` on the left, two flanges of width `b` to the right; inner corners rounded
/// by `r`.
Region channel_section(double h, double b, double t_web, double t_flange, double r);

/// Slotted profile, built of square cells side by side. Each cell keeps a solid core with a bore,
/// diagonal webs to its corners, and a slot in each side that lies outside. A slot is `opening`
/// wide through the lip, `cavity` wide behind it and narrows to `floor` at `depth`. Between
/// neighbouring cells two cavities face each other and form a closed chamber.
///
///        |-opening-|
///     ___|         |___   _ _
///    |__             __|  lip |
///    |  \           /  |      | depth
///    |   \_________/   |  _ _ |
///           floor
struct SlottedSizes {
  double cell = 40.0;  ///< width of a cell, slot to slot
  int across = 1;      ///< cells along x
  int up = 1;          ///< cells along y
  double opening = 8.0;
  double cavity = 20.0;        ///< widest, directly behind the lip
  double floor = 10.0;         ///< width at the floor of the slot
  double lip = 4.5;            ///< thickness of the lips
  double depth = 12.0;         ///< from the surface to the floor
  double core_bore = 6.8;      ///< diameter, through each cell; 0 for none
  double corner_radius = 1.5;  ///< of the outer corners
};

Region slotted_section(const SlottedSizes& sizes);

/// The outline of a slotted profile without slots and chambers, for small drawings.
Region slotted_outline(const SlottedSizes& sizes);

}  // namespace ribbay

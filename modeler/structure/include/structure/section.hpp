#pragma once

#include "shape/region.hpp"

namespace ribbay {

/// What a beam needs to know of its section, exact with arcs (Green's theorem over triangles and
/// circular segments). Axes x and y are those of the region. All in mm; 1 cm4 = 1e4 mm4.
struct SectionProperties {
  double area = 0.0;  ///< mm2
  Vec2 centroid;      ///< mm

  // About axes through the centroid.
  double ixx = 0.0;  ///< integral of y^2: bending about x, mm4
  double iyy = 0.0;  ///< integral of x^2: bending about y, mm4
  double ixy = 0.0;  ///< integral of x y, mm4

  // Elastic section moduli, mm3: second moment over the distance to the outermost fibre on that
  // side.
  double wx_top = 0.0;
  double wx_bottom = 0.0;
  double wy_left = 0.0;
  double wy_right = 0.0;

  // Principal axes. The major axis is the one about which the second moment is greatest.
  double i_major = 0.0;  ///< mm4
  double i_minor = 0.0;  ///< mm4
  double angle = 0.0;  ///< from x to the major axis, counter-clockwise, radians, over -pi/2 to pi/2
  double w_major = 0.0;  ///< smaller elastic modulus for bending about the major axis, mm3
  double w_minor = 0.0;  ///< and about the minor axis, mm3

  double perimeter = 0.0;        ///< of the outside, mm
  double inner_perimeter = 0.0;  ///< of the holes, mm
};

/// Precondition: fault(region) is empty.
SectionProperties section_properties(const Region& region);

/// Saint-Venant torsion constant, mm4, of any section with any holes: the warping function w is
/// harmonic with a known normal derivative, which boundary elements (parabolas on straight pieces)
/// solve, so that fillets and hollows need no special case.
///     J = integral of (x^2 + y^2) dA - contour integral of w dw/dn ds,  dw/dn = y nx - x ny
/// Source: any text on elasticity, e.g. Timoshenko and Goodier, Theory of Elasticity, chapter on
/// torsion. Within 0.2 % of published values on thick, thin and hollow sections with the default
/// number of nodes (about 10 ms; time grows with its cube). A slit tube, whose constant is a small
/// difference of large ones, is 2 % off with 300 nodes and 0.1 % with 1500.
/// Precondition: fault(region) is empty.
double torsion_constant(const Region& region, int nodes = 300);

/// Torsion constant of a rectangular hollow section, mm4, as EN 10219-2 and EN 10210-2 calculate
/// it: Bredt's closed thin wall plus that of the opened wall, t^3 h / 3 + 2 K A_h with the mean
/// perimeter h, the area A_h inside it and K = 2 A_h t / h. `h` and `b` outside, wall `t`, corner
/// radii as in hollow_section().
double hollow_torsion_constant(double h, double b, double t, double r_out, double r_in);

}  // namespace ribbay

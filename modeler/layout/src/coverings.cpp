#include "layout/coverings.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

/// What is sawn: the blank of a bent part, else the part itself.
const Prism& plate(const Part& part) {
  return part.flat ? part.flat->blank : part.shape->prisms.front().prism;
}

/// Area of one side of a plate without the cuts that open to it.
double net_area(const Prism& plate, bool face) {
  Prism open = plate;
  std::erase_if(open.cuts, [&](const Cut& cut) {
    return face ? cut.to < plate.height - kSame : cut.from > kSame;
  });
  for (Cut& cut : open.cuts) {
    cut.from = 0.0;
    cut.to = plate.height;
  }
  return volume(Shape{{{std::move(open), {}}}}) / plate.height;
}

double side_length(const Loop& loop, std::size_t i) {
  const std::size_t n = loop.size();
  // What the arc at corner i takes of the straight side, and half of its own length.
  const auto rounding = [&](std::size_t at) {
    const Corner& corner = loop[at % n];
    const Vec2 in = corner.at - loop[(at + n - 1) % n].at;
    const Vec2 out = loop[(at + 1) % n].at - corner.at;
    const double turn = std::abs(std::atan2(cross(in, out), dot(in, out)));
    return corner.radius * (std::tan(turn / 2) - turn / 2);
  };
  return length(loop[(i + 1) % n].at - loop[i].at) - rounding(i) - rounding(i + 1);
}

double openings_perimeter(const Prism& plate) {
  double sum = 0.0;
  for (const Loop& hole : plate.section.holes) sum += perimeter(hole);
  for (const Cut& cut : plate.cuts) {
    if (cut.from < kSame && cut.to > plate.height - kSame) sum += perimeter(cut.outline);
  }
  return sum;
}

}  // namespace

bool covers_all_edges(const Part& part, const Covering& covering) {
  return covering.edges.size() == plate(part).section.outer.size();
}

double covered_length(const Part& part, const Covering& covering) {
  const Loop& outer = plate(part).section.outer;
  double sum = 0.0;
  for (const std::size_t side : covering.edges) sum += side_length(outer, side);
  return sum;
}

double covered_area(const Part& part, const Covering& covering) {
  const Prism& flat = plate(part);
  double sum = 0.0;
  if (covering.face) sum += net_area(flat, true);
  if (covering.back) sum += net_area(flat, false);
  double edges = covered_length(part, covering);
  // What is laid on a face as well as on all edges goes into its openings too.
  if (covering.face && covers_all_edges(part, covering)) edges += openings_perimeter(flat);
  return sum + edges * flat.height + covered_length(part, covering) * covering.turn_over;
}

Vec2 wrap_blank(const Part& part, const Covering& covering) {
  const Prism& flat = plate(part);
  const Vec3 size = bounds(Shape{{{flat, {}}}}).size();
  const double more = 2 * (flat.height + covering.turn_over);
  return {size.x + more, size.y + more};
}

}  // namespace ribbay

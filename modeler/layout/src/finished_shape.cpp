#include "finished_shape.hpp"

#include "base/tolerance.hpp"
#include "layout/coverings.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Thickness that is laid on a plate.
struct Layers {
  double face = 0.0;
  double back = 0.0;
  std::vector<double> sides;  ///< of its outline
  double openings = 0.0;      ///< inside what is cut out of it
};

struct SideLine {
  Vec2 along;
  Vec2 outward;
  double by = 0.0;
};

/// Shifts a corner to where the lines of its sides go; between two sides in one line that go
/// differently far it becomes a step.
void add_corner(Loop& loop, const Corner& corner, const SideLine& in, const SideLine& out) {
  const double turn = cross(in.along, out.along);
  if (std::abs(turn) < kSame) {
    loop.push_back({corner.at + in.outward * in.by, 0.0});
    if (std::abs(in.by - out.by) > kSame) loop.push_back({corner.at + out.outward * out.by, 0.0});
    return;
  }
  const Vec2 shift = (in.along * out.by - out.along * in.by) * (1.0 / turn);
  const double more = std::min(in.by, out.by) * (turn > 0.0 ? 1.0 : -1.0);
  loop.push_back({corner.at + shift, corner.radius > 0.0 ? std::max(corner.radius + more, 0.0) : 0});
}

/// Moves what ends at or beyond a covered side out with it, so that no skin closes it.
Loop reaching_out(Loop cut, const Loop& outer, const std::vector<double>& by) {
  for (Corner& corner : cut) {
    const Vec2 at = corner.at;
    for (std::size_t i = 0; i < outer.size(); ++i) {
      const Vec2 from = outer[i].at;
      const Vec2 side = outer[(i + 1) % outer.size()].at - from;
      const double size = length(side);
      if (by[i] <= 0.0 || size < kSame) continue;
      const Vec2 outward = perpendicular(side) * (-1.0 / size);
      const double out = dot(outward, at - from);
      const double along = dot(side, at - from) / size;
      if (out < -kSame || along < -out - 1 || along > size + out + 1) continue;
      corner.at = corner.at + outward * (by[i] + 1);
    }
  }
  return cut;
}

Prism covered(const Prism& bare, const Layers& layers) {
  Prism prism{.section = {grown(bare.section.outer, layers.sides), {}},
              .height = bare.height + layers.face + layers.back,
              .cuts = {},
              .bores = {},
              .coarse = {}};
  const auto opening = [&](const Loop& loop, double by) {
    return grown(loop, std::vector<double>(loop.size(), by));
  };
  for (const Loop& hole : bare.section.holes)
    prism.section.holes.push_back(opening(hole, layers.openings));
  for (Cut cut : bare.cuts) {
    const bool to_back = cut.from < kSame;
    const bool to_face = cut.to > bare.height - kSame;
    if (to_back && to_face) cut.outline = opening(cut.outline, -layers.openings);
    cut.outline = reaching_out(std::move(cut.outline), bare.section.outer, layers.sides);
    cut.from = to_back ? 0.0 : cut.from + layers.back;
    cut.to = to_face ? prism.height : cut.to + layers.back;
    prism.cuts.push_back(std::move(cut));
  }
  return prism;
}

bool is_sound(const Prism& prism) {
  return fault(prism.section).empty() && std::ranges::all_of(prism.cuts, [](const Cut& cut) {
           return fault({cut.outline, {}}).empty();
         });
}

PlacedPrism covered(const PlacedPrism& bare, const Layers& layers) {
  return {covered(bare.prism, layers), bare.frame * Frame{.origin = {0, 0, -layers.back}}};
}

/// What a film turns over onto the back: a strip along the edges.
PlacedPrism turned_over(const PlacedPrism& bare, const Covering& film) {
  const Prism& plate = bare.prism;
  const Layers around{0, 0, std::vector<double>(plate.section.outer.size(), film.thickness), 0};
  Prism strip = covered(plate, around);
  strip.height = film.thickness;
  std::erase_if(strip.cuts, [&](const Cut& cut) { return cut.from > kSame; });
  for (Cut& cut : strip.cuts) cut.to = film.thickness;
  const Loop inside = grown(plate.section.outer, std::vector<double>(plate.section.outer.size(),
                                                                     -film.turn_over));
  Prism open = strip;
  open.section.holes.push_back(reversed(inside));
  const bool ring = fault({inside, {}}).empty() && fault(open.section).empty();
  return {ring ? std::move(open) : std::move(strip),
          bare.frame * Frame{.origin = {0, 0, -film.thickness}}};
}

Layers layers_of(const Part& part, std::size_t sides) {
  Layers all;
  all.sides.resize(sides, 0.0);
  for (const Covering& covering : part.coverings) {
    if (covering.face) all.face += covering.thickness;
    if (covering.back) all.back += covering.thickness;
    if (part.flat && covering.turn_over > 0.0) all.back += covering.thickness;
    const bool all_round = covers_all_edges(part, covering);
    if (covering.face && all_round) all.openings += covering.thickness;
    if (part.flat) {
      if (all_round) std::ranges::fill(all.sides, all.sides.front() + covering.thickness);
      continue;
    }
    for (const std::size_t side : covering.edges) all.sides[side] += covering.thickness;
  }
  return all;
}

/// True when a side of a flat is where a bend begins or ends: the middle of the sheet's edge there
/// lies on that of the bend.
bool is_bent_side(const PlacedPrism& flat, std::size_t side, const PlacedPrism& bend) {
  const Loop& outer = flat.prism.section.outer;
  const Vec2 middle = (outer[side].at + outer[(side + 1) % outer.size()].at) * 0.5;
  const Vec3 at = bend.frame.local_point(
      flat.frame.point({middle.x, middle.y, flat.prism.height / 2}));
  if (at.z < -kSame || at.z > bend.prism.height + kSame) return false;
  return std::ranges::any_of(sides(bend.prism.section.outer), [&](const Side& edge) {
    return !edge.arc && length((edge.a + edge.b) * 0.5 - Vec2{at.x, at.y}) < kGrid;
  });
}

/// A bend grows like the flats beside it: the outside of its curve is the back when it turns
/// towards the face.
PlacedPrism covered_bend(const PlacedPrism& bend, double angle, const Layers& layers) {
  const Loop& outer = bend.prism.section.outer;
  const double outside = angle > 0.0 ? layers.back : layers.face;
  const double inside = angle > 0.0 ? layers.face : layers.back;
  const std::size_t n = outer.size();
  const auto is_arc = [&](std::size_t i) { return outer[i % n].radius > 0.0; };
  const auto bulges = [&](std::size_t i) {
    const Vec2 at = outer[i % n].at;
    return cross(at - outer[(i + n - 1) % n].at, outer[(i + 1) % n].at - at) > 0.0;
  };
  Layers own{0, 0, std::vector<double>(n, 0.0), 0};
  for (std::size_t i = 0; i < n; ++i) {
    if (!is_arc(i) && !is_arc(i + 1)) continue;
    own.sides[i] = bulges(is_arc(i) ? i : i + 1) ? outside : inside;
  }
  PlacedPrism result = covered(bend, own);
  if (!is_sound(result.prism)) result = bend;  // thicker than its radius: the flats fill it
  const double ends = layers.sides.front();  // all edges of a bent part are covered alike
  result.prism.height += 2 * ends;
  result.frame = result.frame * Frame{.origin = {0, 0, -ends}};
  return result;
}

/// The prisms of a bent part are its first flat and then, in turn, a bend and the flat behind it.
Shape covered_bent(const Part& part) {
  const std::vector<PlacedPrism>& bare = part.shape->prisms;
  Shape shape;
  for (std::size_t i = 0; i < bare.size(); ++i) {
    Layers layers = layers_of(part, bare[i].prism.section.outer.size());
    if (i % 2 == 1) {
      shape.prisms.push_back(covered_bend(bare[i], part.flat->bends[i / 2].angle, layers));
      continue;
    }
    for (std::size_t side = 0; side < layers.sides.size(); ++side) {
      for (std::size_t bend = 1; bend < bare.size(); bend += 2) {
        if (is_bent_side(bare[i], side, bare[bend])) layers.sides[side] = 0.0;
      }
    }
    shape.prisms.push_back(covered(bare[i], layers));
  }
  return shape;
}

Shape covered_flat(const Part& part) {
  const PlacedPrism& bare = part.shape->prisms.front();
  Shape shape{{covered(bare, layers_of(part, bare.prism.section.outer.size()))}};
  for (const Covering& covering : part.coverings) {
    if (covering.turn_over > 0.0 && !covering.back)
      shape.prisms.push_back(turned_over(bare, covering));
  }
  return shape;
}

}  // namespace

Loop grown(const Loop& loop, const std::vector<double>& by) {
  Loop corners;
  std::vector<SideLine> lines;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec2 side = loop[(i + 1) % loop.size()].at - loop[i].at;
    if (length(side) < kSame) continue;  // repeats its neighbour
    const Vec2 along = normalized(side);
    corners.push_back(loop[i]);
    lines.push_back({along, perpendicular(along) * -1.0, by[i]});
  }
  Loop result;
  for (std::size_t i = 0; i < corners.size(); ++i)
    add_corner(result, corners[i], lines[(i + lines.size() - 1) % lines.size()], lines[i]);
  return result;
}

ShapePtr finished_shape(const Part& part) {
  Shape shape = part.flat ? covered_bent(part) : covered_flat(part);
  const bool sound = std::ranges::all_of(
      shape.prisms, [](const PlacedPrism& placed) { return is_sound(placed.prism); });
  return sound ? std::make_shared<const Shape>(std::move(shape)) : nullptr;
}

}  // namespace ribbay::detail

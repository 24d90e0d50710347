#include "shape/folded.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace ribbay {
namespace {

/// A rigid move in the plane: `along` is where x goes.
struct Move {
  Vec2 origin;
  Vec2 along{1, 0};
  Vec2 direction(Vec2 v) const { return along * v.x + perpendicular(along) * v.y; }
  Vec2 point(Vec2 p) const { return origin + direction(p); }
};

Loop moved(Loop loop, const Move& move) {
  for (Corner& corner : loop) corner.at = move.point(corner.at);
  return loop;
}

/// The section of a bend from its tangent line at the origin: x away from the parent, y to its face.
Loop sector(const Flat& flat, double thickness) {
  const double turn = std::abs(flat.angle);
  const double side = flat.angle > 0.0 ? 1.0 : -1.0;
  const double inside = flat.angle > 0.0 ? thickness : 0.0;  // height of the inner fibre
  const Vec2 centre{0.0, inside + side * flat.radius};
  const auto on = [&](double radius, double angle) {
    return centre + Vec2{std::sin(angle), -side * std::cos(angle)} * radius;
  };
  // Arcs of at most a right angle, each rounding the corner where its end tangents meet.
  const int arcs = static_cast<int>(std::ceil(turn / (std::numbers::pi / 2) - 1e-9));
  const auto arc = [&](double radius, bool forward) {
    Loop loop;
    for (int i = 0; i < arcs; ++i) {
      const int k = forward ? i : arcs - 1 - i;
      const double middle = turn * (k + 0.5) / arcs;
      const double half = turn / arcs / 2;
      if (i > 0) loop.push_back({on(radius, forward ? middle - half : middle + half), 0.0});
      loop.push_back({on(radius / std::cos(half), middle), radius});
    }
    return loop;
  };
  Loop loop;
  const double outer = flat.radius + thickness;
  const auto append = [&](const Loop& part) { loop.insert(loop.end(), part.begin(), part.end()); };
  loop.push_back({on(outer, 0.0), 0.0});
  append(arc(outer, true));
  loop.push_back({on(outer, turn), 0.0});
  loop.push_back({on(flat.radius, turn), 0.0});
  if (flat.radius > kSame) {
    append(arc(flat.radius, false));
    loop.push_back({on(flat.radius, 0.0), 0.0});
  }
  return flat.angle > 0.0 ? loop : reversed(loop);
}

/// The axes of a bend's tangent line on its parent: x along it, y away from the parent.
Frame line_frame(const Flat& flat) {
  const Vec2 along = normalized(flat.b - flat.a);
  const Vec2 away = perpendicular(along);
  return {{flat.a.x, flat.a.y, 0}, {along.x, along.y, 0}, {away.x, away.y, 0}, {0, 0, 1}};
}

/// The axes of a flat in those of its bend's tangent line.
Frame bent_frame(const Flat& flat, double thickness) {
  const double c = std::cos(flat.angle);
  const double s = std::sin(flat.angle);
  const double inside = flat.angle > 0.0 ? thickness + flat.radius : -flat.radius;
  // The flat's back turns about the bend's axis.
  return {{0, inside * s, inside - inside * c}, {1, 0, 0}, {0, c, s}, {0, -s, c}};
}

/// The prism of a flat or of the blank, as one that runs through its whole thickness.
Prism plate(const Region& outline, double thickness, const std::vector<Cut>& cuts,
            const std::vector<Bore>& bores) {
  Prism prism{.section = outline, .height = thickness, .cuts = cuts, .bores = bores, .coarse = {}};
  for (Cut& cut : prism.cuts) {
    cut.from = 0.0;
    cut.to = thickness;
  }
  return prism;
}

bool lies_on(Vec2 p, const Corner& from, const Corner& to) {
  const Vec2 d = to.at - from.at;
  const double size = length(d);
  if (size < kSame) return false;
  const double along = dot(p - from.at, d) / size;
  return std::abs(cross(d, p - from.at)) / size < kGrid && along > -kGrid && along < size + kGrid;
}

/// Leaves out corners that repeat their neighbour or lie straight between two.
Loop tidied(Loop loop) {
  for (bool changed = true; changed && loop.size() > 3;) {
    changed = false;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Corner& here = loop[i];
      const Vec2 before = loop[(i + loop.size() - 1) % loop.size()].at;
      const Vec2 after = loop[(i + 1) % loop.size()].at;
      const double span = std::max(length(after - before), 1.0);
      const bool repeats = length(after - here.at) < kSame && loop[(i + 1) % loop.size()].radius == here.radius;
      const bool straight = here.radius == 0.0 &&
                            std::abs(cross(here.at - before, after - here.at)) < kSame * span &&
                            dot(here.at - before, after - here.at) > 0.0;
      if (!repeats && !straight) continue;
      loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(i));
      changed = true;
      break;
    }
  }
  return loop;
}

/// Puts the outline of a flat into the one it hangs on, in place of the bend's line from b to a.
void graft(Loop& tree, Vec2 a, Vec2 b, const Loop& branch) {
  for (std::size_t i = 0; i < tree.size(); ++i) {
    const std::size_t next = (i + 1) % tree.size();
    if (!lies_on(a, tree[i], tree[next]) || !lies_on(b, tree[i], tree[next])) continue;
    Loop inserted{{b, 0.0}};
    inserted.insert(inserted.end(), branch.begin() + 1, branch.end());
    inserted.push_back(branch.front());
    inserted.push_back({a, 0.0});
    tree.insert(tree.begin() + static_cast<std::ptrdiff_t>(i) + 1, inserted.begin(),
                inserted.end());
    return;
  }
  assert(false && "a bend must lie on a side of what it hangs on");
}

}  // namespace

double bend_allowance(double angle, double radius, double thickness, double k_factor) {
  return std::abs(angle) * (radius + k_factor * thickness);
}

std::vector<Frame> flat_frames(const FoldedSheet& sheet) {
  std::vector<Frame> frames;
  for (const Flat& flat : sheet.flats) {
    frames.push_back(flat.parent < 0 ? Frame{}
                                     : frames[static_cast<std::size_t>(flat.parent)] *
                                           line_frame(flat) * bent_frame(flat, sheet.thickness));
  }
  return frames;
}

Shape folded_shape(const FoldedSheet& sheet) {
  const std::vector<Frame> frames = flat_frames(sheet);
  Shape shape;
  for (std::size_t i = 0; i < sheet.flats.size(); ++i) {
    const Flat& flat = sheet.flats[i];
    if (flat.parent >= 0) {
      // The sector's section has the line's y and z as its x and y: its z runs along the line.
      const Frame upright{{}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}};
      shape.prisms.push_back({{.section = {sector(flat, sheet.thickness), {}},
                               .height = length(flat.b - flat.a),
                               .cuts = {},
                               .bores = {},
                               .coarse = {}},
                              frames[static_cast<std::size_t>(flat.parent)] * line_frame(flat) *
                                  upright});
    }
    shape.prisms.push_back(
        {plate(flat.outline, sheet.thickness, flat.cuts, flat.bores), frames[i]});
  }
  return shape;
}

FlatPattern flat_pattern(const FoldedSheet& sheet) {
  FlatPattern pattern;
  pattern.blank = plate(sheet.flats.front().outline, sheet.thickness, {}, {});
  std::vector<Move> moves;
  for (const Flat& flat : sheet.flats) {
    Move move;
    if (flat.parent >= 0) {
      const Move& parent = moves[static_cast<std::size_t>(flat.parent)];
      const Vec2 a = parent.point(flat.a);
      const Vec2 b = parent.point(flat.b);
      move.along = normalized(b - a);
      const Vec2 away = perpendicular(move.along);
      const double allowance =
          bend_allowance(flat.angle, flat.radius, sheet.thickness, sheet.k_factor);
      move.origin = a + away * allowance;
      graft(pattern.blank.section.outer, a, b, moved(flat.outline.outer, move));
      const Vec2 half = away * (allowance / 2);
      pattern.bends.push_back({a + half, b + half, flat.angle, flat.radius});
      for (const Loop& hole : flat.outline.holes)
        pattern.blank.section.holes.push_back(moved(hole, move));
    }
    moves.push_back(move);
    for (Cut cut : flat.cuts) {
      cut.outline = moved(std::move(cut.outline), move);
      cut.from = 0.0;
      cut.to = sheet.thickness;
      pattern.blank.cuts.push_back(std::move(cut));
    }
    for (Bore bore : flat.bores) {
      const Vec2 at = move.point({bore.at.x, bore.at.y});
      bore.at = {at.x, at.y, bore.at.z};
      pattern.blank.bores.push_back(std::move(bore));
    }
  }
  pattern.blank.section.outer = tidied(std::move(pattern.blank.section.outer));
  return pattern;
}

}  // namespace ribbay

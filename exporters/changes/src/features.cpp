#include "features.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

std::string_view name(CutRole role) {
  switch (role) {
    case CutRole::cut_out:
      return "cut-out";
    case CutRole::notch:
      return "notch";
    case CutRole::dado:
      return "dado";
    case CutRole::rebate:
      return "rebate";
    case CutRole::groove:
      return "groove";
    case CutRole::toe_space:
      break;
  }
  return "toe space";
}

Box bounds_of(const Loop& loop) {
  return {{-reach(loop, {-1, 0}), -reach(loop, {0, -1}), 0},
          {reach(loop, {1, 0}), reach(loop, {0, 1}), 0}};
}

void move(PartRecord& part, Vec3 by) {
  const Vec2 flat{by.x, by.y};
  part.outline.outer = moved(std::move(part.outline.outer), flat);
  for (Loop& hole : part.outline.holes) hole = moved(std::move(hole), flat);
  for (Cut& cut : part.cuts) {
    cut.outline = moved(std::move(cut.outline), flat);
    cut.from += by.z;
    cut.to += by.z;
  }
  for (Bore& bore : part.bores) bore.at = bore.at + by;
  for (BendLine& bend : part.bends) {
    bend.a = bend.a + flat;
    bend.b = bend.b + flat;
  }
  for (FinishRecord& finish : part.finishes) {
    for (Vec2& edge : finish.edges) edge = edge + flat;
  }
}

bool near(double a, double b) {
  return std::abs(a - b) < kContact;
}
bool near(Vec2 a, Vec2 b) {
  return near(a.x, b.x) && near(a.y, b.y);
}

namespace {

bool near(Vec3 a, Vec3 b) {
  return detail::near(a.x, b.x) && detail::near(a.y, b.y) && detail::near(a.z, b.z);
}

/// Directions agree when they part by less than kContact over a metre.
bool along(Vec3 a, Vec3 b) {
  return length(a - b) * 1000.0 < kContact;
}

bool same(const Corner& a, const Corner& b) {
  return detail::near(a.at, b.at) && detail::near(a.radius, b.radius);
}

bool one_tool(const Bore& a, const Bore& b) {
  return detail::near(a.diameter, b.diameter) && a.thread == b.thread;
}

/// Both go right through and lie on one line.
bool same_line(const Bore& a, const Bore& b) {
  if (!a.through || !b.through) return false;
  if (!along(a.direction, b.direction) && !along(a.direction, -b.direction)) return false;
  const Vec3 apart = b.at - a.at;
  return length(apart - a.direction * dot(apart, a.direction)) < kContact;
}

}  // namespace

bool same(const Loop& a, const Loop& b) {
  if (a.size() != b.size()) return false;
  const std::size_t n = a.size();
  for (std::size_t shift = 0; shift < n; ++shift) {
    std::size_t i = 0;
    while (i < n && same(a[i], b[(i + shift) % n])) ++i;
    if (i == n) return true;
  }
  return n == 0;
}

bool same(const Region& a, const Region& b) {
  return same(a.outer, b.outer) && same_all(a.holes, b.holes);
}

bool same(const Cut& a, const Cut& b) {
  return near(a.from, b.from) && near(a.to, b.to) && same(a.outline, b.outline);
}

bool same(const Bore& a, const Bore& b) {
  if (!one_tool(a, b) || a.through != b.through) return false;
  return same_line(a, b) ||
         (near(a.at, b.at) && along(a.direction, b.direction) && near(a.depth, b.depth));
}

bool begun(const Bore& old, const Bore& fresh) {
  if (!one_tool(old, fresh)) return false;
  if (same_line(old, fresh)) return true;
  return near(old.at, fresh.at) && along(old.direction, fresh.direction) &&
         (fresh.through || (!old.through && old.depth < fresh.depth + kContact));
}

bool same(const BendLine& a, const BendLine& b) {
  const bool one_line = (near(a.a, b.a) && near(a.b, b.b)) || (near(a.a, b.b) && near(a.b, b.a));
  return one_line && std::abs(a.angle - b.angle) * 1000.0 < kContact && near(a.radius, b.radius);
}

bool same(const FinishRecord& a, const FinishRecord& b) {
  if (a.finish != b.finish || a.face != b.face || a.back != b.back) return false;
  if (!near(a.thickness, b.thickness) || !near(a.turn_over, b.turn_over)) return false;
  if (a.edges.size() != b.edges.size()) return false;
  const auto partners = pairs(a.edges, b.edges, [](Vec2 x, Vec2 y) { return near(x, y); });
  return std::ranges::find(partners, -1) == partners.end();
}

}  // namespace ribbay::detail

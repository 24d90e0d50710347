#include "workpiece.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

/// Directions closer than this are parallel: far above rounding, 0.01 mm over 10 m.
constexpr double kParallel = 1e-6;

std::array<Vec3, 3> axes(const Frame& frame) {
  return {frame.x, frame.y, frame.z};
}

/// The axis of `frame` that `direction` is parallel to, or -1.
int axis_along(const Frame& frame, Vec3 direction) {
  const auto all = axes(frame);
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(dot(all[static_cast<std::size_t>(axis)], direction)) > 1.0 - kParallel)
      return axis;
  }
  return -1;
}

}  // namespace

Box in_axes(const Frame& to, const Workpiece& piece) {
  const Frame frame = piece.frame();
  const Box box = piece.box();
  Box result;
  for (int i = 0; i < 8; ++i) {
    const Vec3 corner{i & 1 ? box.hi.x : box.lo.x, i & 2 ? box.hi.y : box.lo.y,
                      i & 4 ? box.hi.z : box.lo.z};
    result.add(to.local_point(frame.point(corner)));
  }
  return result;
}

Vec3 forward(Vec3 d) {
  const double first = std::abs(d.x) > kParallel ? d.x : std::abs(d.y) > kParallel ? d.y : d.z;
  return first < 0.0 ? -d : d;
}

const std::string& Workpiece::name() const {
  return bar() ? bar()->name : board()->name;
}

std::vector<Hole>& Workpiece::holes() {
  return bar() ? bar()->holes : board()->holes;
}

Frame Workpiece::frame() const {
  return bar() ? frame_zx(bar()->from, bar()->direction, bar()->across) : board()->frame;
}

Box Workpiece::box() const {
  if (const Bar* b = bar()) {
    const Vec3 half{b->profile->width / 2, b->profile->height / 2, 0};
    return {-half, half + Vec3{0, 0, b->length}};
  }
  return bounds(Shape{{{{board()->outline, board()->sheet->thickness, {}, {}, {}}, {}}}});
}

const Slot* Workpiece::slot() const {
  return bar() && bar()->profile->slot ? &*bar()->profile->slot : nullptr;
}

void make_all(Workshop& shop, const Workpieces& pieces) {
  for (const auto& [name, piece] : pieces) {
    if (const Bar* bar = piece.bar()) {
      shop.add(*bar);
    } else {
      shop.add(*piece.board());
    }
  }
}

Vec3 Patch::side(Vec3 direction) const {
  return std::abs(dot(direction, u)) > std::abs(dot(direction, v)) ? u : v;
}

double Patch::length(Vec3 direction) const {
  return side(direction) == u ? length_u : length_v;
}

bool Patch::holds(Vec3 point, double margin) const {
  const Vec3 d = point - middle;
  return std::abs(dot(d, u)) <= length_u / 2 - margin + kContact &&
         std::abs(dot(d, v)) <= length_v / 2 - margin + kContact;
}

bool square(const Workpiece& a, const Workpiece& b) {
  const Frame frame = a.frame();
  return std::ranges::all_of(axes(b.frame()),
                             [&](Vec3 axis) { return axis_along(frame, axis) >= 0; });
}

std::optional<Patch> contact(const Workpiece& a, const Workpiece& b, double gap) {
  if (!square(a, b)) return std::nullopt;
  const Frame frame = a.frame();
  const Box mine = a.box();
  const Box other = in_axes(frame, b);
  for (int axis = 0; axis < 3; ++axis) {
    const int i = (axis + 1) % 3;
    const int k = (axis + 2) % 3;
    const bool after = std::abs(other.lo[axis] - mine.hi[axis] - gap) <= kContact;
    const bool before = std::abs(mine.lo[axis] - other.hi[axis] - gap) <= kContact;
    if (!after && !before) continue;
    Vec3 lo;
    Vec3 hi;
    for (const int side : {i, k}) {
      lo[side] = std::max(mine.lo[side], other.lo[side]);
      hi[side] = std::min(mine.hi[side], other.hi[side]);
    }
    if (hi[i] - lo[i] < kContact || hi[k] - lo[k] < kContact) continue;
    lo[axis] = hi[axis] = after ? mine.hi[axis] : mine.lo[axis];
    const auto all = axes(frame);
    const auto unit = [&](int n) { return all[static_cast<std::size_t>(n)]; };
    return Patch{.middle = frame.point((lo + hi) * 0.5),
                 .out = after ? unit(axis) : -unit(axis),
                 .u = forward(unit(i)),
                 .v = forward(unit(k)),
                 .length_u = hi[i] - lo[i],
                 .length_v = hi[k] - lo[k]};
  }
  return std::nullopt;
}

double separation(const Workpiece& a, const Workpiece& b) {
  std::vector<Vec3> ways;
  for (const Vec3 p : axes(a.frame())) ways.push_back(p);
  for (const Vec3 q : axes(b.frame())) ways.push_back(q);
  for (const Vec3 p : axes(a.frame())) {
    for (const Vec3 q : axes(b.frame())) {
      const Vec3 way = cross(p, q);
      if (length(way) > kParallel) ways.push_back(normalized(way));
    }
  }
  double best = -std::numeric_limits<double>::infinity();
  for (const Vec3 way : ways) {
    const Vec3 any = std::abs(way.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const Frame frame = frame_zx({}, way, normalized(any - way * dot(any, way)));
    const Box mine = in_axes(frame, a);
    const Box other = in_axes(frame, b);
    best = std::max({best, other.lo.z - mine.hi.z, mine.lo.z - other.hi.z});
  }
  return best;
}

Box overlap(const Workpiece& outer, const Workpiece& inner) {
  if (!square(outer, inner)) return {};
  const Box mine = outer.box();
  const Box other = in_axes(outer.frame(), inner);
  Box both;
  for (int axis = 0; axis < 3; ++axis) {
    both.lo[axis] = std::max(mine.lo[axis], other.lo[axis]);
    both.hi[axis] = std::min(mine.hi[axis], other.hi[axis]);
    if (both.hi[axis] - both.lo[axis] < kContact) return {};
  }
  return both;
}

double size_along(const Workpiece& piece, Vec3 direction) {
  return piece.box().size()[std::max(axis_along(piece.frame(), direction), 0)];
}

std::optional<std::pair<double, double>> crossing(const Workpiece& piece, Vec3 at, Vec3 direction) {
  const Frame frame = piece.frame();
  const Box box = piece.box();
  const Vec3 p = frame.local_point(at);
  const Vec3 d = frame.local_direction(direction);
  double near = -std::numeric_limits<double>::infinity();
  double far = std::numeric_limits<double>::infinity();
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(d[axis]) < kParallel) {
      if (p[axis] < box.lo[axis] - kSame || p[axis] > box.hi[axis] + kSame) return std::nullopt;
      continue;
    }
    const auto [first, last] =
        std::minmax({(box.lo[axis] - p[axis]) / d[axis], (box.hi[axis] - p[axis]) / d[axis]});
    near = std::max(near, first);
    far = std::min(far, last);
  }
  if (far <= near) return std::nullopt;
  return std::pair{near, far};
}

std::optional<Vec3> on_slot(const Workpiece& piece, Vec3 out, Vec3 at) {
  const Slot* slot = piece.slot();
  if (slot == nullptr) return std::nullopt;
  const Frame frame = piece.frame();
  const int face = axis_along(frame, out);
  if (face != 0 && face != 1) return std::nullopt;
  const int across = 1 - face;
  Vec3 p = frame.local_point(at);
  const Vec3 size = piece.box().size();
  p[face] = dot(out, frame.direction(face == 0 ? Vec3{1, 0, 0} : Vec3{0, 1, 0})) * size[face] / 2;
  // One slot in the middle of each square cell.
  const double cells = std::max(1.0, std::round(size[across] / slot->pitch));
  const double from_edge = p[across] + size[across] / 2;
  const double cell = std::clamp(std::floor(from_edge / slot->pitch), 0.0, cells - 1.0);
  p[across] = (cell + 0.5) * slot->pitch - size[across] / 2;
  return frame.point(p);
}

}  // namespace ribbay::detail

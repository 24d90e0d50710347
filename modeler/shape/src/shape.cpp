#include "shape/shape.hpp"

#include "arrangement.hpp"
#include "base/text.hpp"
#include "shape/closed_mesh.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

namespace ribbay {
namespace {

/// Integrals over a solid: volume, and the integrals of x, y and z.
struct SolidMoments {
  double volume = 0.0;
  Vec3 first;
};

void add(SolidMoments& sum, const AreaMoments& area, double from, double to, double sign) {
  const double height = sign * (to - from);
  sum.volume += height * area.area;
  sum.first =
      sum.first + Vec3{height * area.x, height * area.y, height * area.area * (from + to) / 2.0};
}

/// The blank and what the cuts leave of it. By Green's theorem over the walls between material and
/// air.
SolidMoments solid_moments(const Prism& prism) {
  SolidMoments sum;
  if (prism.cuts.empty()) {
    add(sum, moments(prism.section), 0.0, prism.height, 1.0);
    return sum;
  }
  const detail::Plan plan = detail::plan_of(prism.section, prism.height, prism.cuts);
  if (plan.points.empty()) return sum;
  const Vec2 o = plan.points.front();  // near by, so that the terms do not cancel
  for (const detail::PlanEdge& edge : plan.edges) {
    Side side = edge.side;
    side.a = side.a - o;
    side.b = side.b - o;
    side.centre = side.centre - o;
    const AreaMoments area = detail::moments(side);
    for (std::size_t k = 0; k + 1 < plan.levels.size(); ++k)
      if (edge.left[k] != edge.right[k])
        add(sum, area, plan.levels[k], plan.levels[k + 1], edge.left[k] ? 1.0 : -1.0);
  }
  sum.first = sum.first + Vec3{o.x, o.y, 0.0} * sum.volume;
  return sum;
}

SolidMoments solid_moments(const Shape& shape) {
  SolidMoments sum;
  for (const PlacedPrism& placed : shape.prisms) {
    const SolidMoments one = solid_moments(placed.prism);
    sum.volume += one.volume;
    sum.first = sum.first + placed.frame.origin * one.volume + placed.frame.direction(one.first);
  }
  if (shape.mesh) {
    sum.volume += shape.mesh->volume;
    sum.first = sum.first + shape.mesh->centroid * shape.mesh->volume;
  }
  return sum;
}

/// Grows `box` by a wall: `side` from z0 to z1, moved by `frame`.
void add_wall(Box& box, const Side& side, double z0, double z1, const Frame& frame) {
  for (int axis = 0; axis < 3; ++axis) {
    const Vec3 d{frame.x[axis], frame.y[axis], frame.z[axis]};
    const double origin = frame.origin[axis];
    box.hi[axis] = std::max(
        box.hi[axis], origin + detail::support(side, {d.x, d.y}) + std::max(d.z * z0, d.z * z1));
    box.lo[axis] = std::min(
        box.lo[axis], origin - detail::support(side, {-d.x, -d.y}) + std::min(d.z * z0, d.z * z1));
  }
}

void add_prism(Box& box, const Prism& prism, const Frame& frame) {
  if (prism.cuts.empty()) {
    for (const Side& side : sides(prism.section.outer))
      add_wall(box, side, 0.0, prism.height, frame);
    return;
  }
  const detail::Plan plan = detail::plan_of(prism.section, prism.height, prism.cuts);
  for (const detail::PlanEdge& edge : plan.edges)
    for (std::size_t k = 0; k + 1 < plan.levels.size(); ++k)
      if (edge.left[k] != edge.right[k])
        add_wall(box, edge.side, plan.levels[k], plan.levels[k + 1], frame);
}

/// The texts of things whose order does not matter, in one order.
template <class Item, class Text>
std::string sorted_texts(const std::vector<Item>& items, Text text) {
  std::vector<std::string> all;
  for (const Item& item : items) all.push_back(text(item));
  std::ranges::sort(all);
  std::string joined;
  for (const std::string& one : all) joined += one;
  return joined;
}

/// Writes the canonical text, field by field: an outline from its lowest corner on, cuts and bores
/// in one order, however they were listed.
class KeyText {
 public:
  void number(double value) { text_ += rounded_text(value, 9) + ' '; }
  void vector(Vec3 v) {
    for (const double value : {v.x, v.y, v.z}) number(value);
  }
  void loop(const Loop& loop) {
    // Coarser than the numbers of the key, so that rounding cannot choose another first corner.
    const auto rounded = [](const Corner& c) {
      return std::tuple{std::round(c.at.x * 1e6), std::round(c.at.y * 1e6),
                        std::round(c.radius * 1e6)};
    };
    const auto first = std::ranges::min_element(loop, {}, rounded);
    text_ += '(';
    const auto corner = [&](const Corner& c) {
      for (const double value : {c.at.x, c.at.y, c.radius}) number(value);
    };
    std::for_each(first, loop.end(), corner);
    std::for_each(loop.begin(), first, corner);
    text_ += ')';
  }
  void region(const Region& region) {
    loop(region.outer);
    text_ += sorted_texts(region.holes, [](const Loop& hole) {
      KeyText text;
      text.loop(hole);
      return text.take();
    });
  }
  void cut(const Cut& cut) {
    text_ += "cut" + std::to_string(static_cast<int>(cut.role));
    loop(cut.outline);
    number(cut.from);
    number(cut.to);
  }
  void bore(const Bore& bore) {
    text_ += "bore" + std::to_string(static_cast<int>(bore.role)) + ' ';
    vector(bore.at);
    vector(bore.direction);
    number(bore.diameter);
    number(bore.depth);
    text_ += (bore.through ? "through " : "") + bore.thread + ';';
  }
  void prism(const PlacedPrism& placed) {
    text_ += "prism";
    for (const Vec3 v : {placed.frame.origin, placed.frame.x, placed.frame.y, placed.frame.z})
      vector(v);
    region(placed.prism.section);
    number(placed.prism.height);
    text_ += sorted_texts(placed.prism.cuts, [](const Cut& c) {
      KeyText text;
      text.cut(c);
      return text.take();
    });
    text_ += sorted_texts(placed.prism.bores, [](const Bore& b) {
      KeyText text;
      text.bore(b);
      return text.take();
    });
    if (placed.prism.coarse) {
      text_ += "coarse";
      region(*placed.prism.coarse);
    }
  }
  std::string take() { return std::move(text_); }

 private:
  std::string text_;
};

}  // namespace

std::string key(const Shape& shape) {
  KeyText text;
  for (const PlacedPrism& placed : shape.prisms) text.prism(placed);
  return text.take() + (shape.mesh ? "mesh " + shape.mesh->digest : "");
}

Shape box_shape(Vec3 lo, Vec3 hi) {
  Prism prism;
  prism.section.outer = rectangle({lo.x, lo.y}, {hi.x, hi.y});
  prism.height = hi.z - lo.z;
  return {{{std::move(prism), {.origin = {0.0, 0.0, lo.z}}}}};
}

PlacedPrism cylinder(double diameter, double height, const Frame& frame) {
  Prism prism;
  prism.section.outer = circle({0.0, 0.0}, diameter);
  prism.height = height;
  return {std::move(prism), frame};
}

Box bounds(const Shape& shape) {
  Box box;
  for (const PlacedPrism& placed : shape.prisms) add_prism(box, placed.prism, placed.frame);
  if (shape.mesh) box.add(shape.mesh->box);
  return box;
}

Box bounds(const Shape& shape, const Frame& frame) {
  Box box;
  for (const PlacedPrism& placed : shape.prisms)
    add_prism(box, placed.prism, frame * placed.frame);
  if (shape.mesh) {
    for (const Vec3 p : shape.mesh->points) box.add(frame.point(p));
  }
  return box;
}

double volume(const Shape& shape) {
  return solid_moments(shape).volume;
}

Vec3 centroid(const Shape& shape) {
  const SolidMoments m = solid_moments(shape);
  return m.volume == 0.0 ? Vec3{} : m.first * (1.0 / m.volume);
}

double bores_volume(const Shape& shape) {
  double sum = 0.0;
  for (const PlacedPrism& placed : shape.prisms)
    for (const Bore& bore : placed.prism.bores)
      sum += std::numbers::pi / 4.0 * bore.diameter * bore.diameter * bore.depth;
  return sum;
}

}  // namespace ribbay

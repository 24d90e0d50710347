#include "shape/halved.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

constexpr double kAside = 1e-4;  // where the two sides of an outline are asked, mm

using Key = std::array<double, 6>;

/// The same for both faces that share an edge.
Key key_of(Vec3 a, Vec3 b) {
  const std::array<double, 3> p{a.x, a.y, a.z};
  const std::array<double, 3> q{b.x, b.y, b.z};
  const auto& [first, second] = std::minmax(p, q);
  return {first[0], first[1], first[2], second[0], second[1], second[2]};
}

struct Crossing {
  Key edge;
  Vec3 at;
};

/// A stretch of the outline of a bare area, the material on its left.
struct Stretch {
  Crossing from;
  Crossing to;
  Vec3 normal;  ///< of the face that it lies in
};

class Plane {
 public:
  Plane(Vec3 normal, double offset) : normal_(normal), offset_(offset) {}

  double above(Vec3 p) const { return dot(normal_, p) - offset_; }
  bool stays(Vec3 p) const { return above(p) < 0.0; }
  /// Where an edge with its ends on different sides meets the plane: the same bits from both faces.
  Vec3 meet(Vec3 a, Vec3 b) const {
    const Key key = key_of(a, b);
    const Vec3 p{key[0], key[1], key[2]};
    const Vec3 q{key[3], key[4], key[5]};
    return p + (q - p) * (above(p) / (above(p) - above(q)));
  }
  Vec3 normal() const { return normal_; }

 private:
  Vec3 normal_;
  double offset_;
};

/// The part of a face that stays; adds its stretches of bare outline.
void cut_face(const FacetFace& face, const Plane& plane, Facets& rest,
              std::vector<Stretch>& stretches) {
  FacetFace kept{{}, face.normal};
  std::vector<Crossing> crossings;
  for (const auto& loop : face.loops) {
    std::vector<Vec3> part;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3 a = loop[i];
      const Vec3 b = loop[(i + 1) % loop.size()];
      if (plane.stays(a)) part.push_back(a);
      if (plane.stays(a) == plane.stays(b)) continue;
      const Vec3 at = plane.meet(a, b);
      part.push_back(at);
      crossings.push_back({key_of(a, b), at});
    }
    if (part.size() > 2) kept.loops.push_back(std::move(part));
  }
  if (!kept.loops.empty()) rest.faces.push_back(std::move(kept));
  const Vec3 along = cross(plane.normal(), face.normal);
  std::ranges::stable_sort(crossings, {}, [&](const Crossing& c) { return dot(along, c.at); });
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
    stretches.push_back({crossings[i], crossings[i + 1], face.normal});
}

/// Stretches end to end. A body that closes leaves none over.
std::vector<std::vector<std::size_t>> chained(const std::vector<Stretch>& stretches) {
  std::multimap<Key, std::size_t> begins;
  for (std::size_t i = 0; i < stretches.size(); ++i) begins.emplace(stretches[i].from.edge, i);
  std::vector<bool> used(stretches.size(), false);
  std::vector<std::vector<std::size_t>> loops;
  for (std::size_t first = 0; first < stretches.size(); ++first) {
    if (used[first]) continue;
    std::vector<std::size_t> loop;
    for (std::size_t at = first; !used[at];) {
      used[at] = true;
      loop.push_back(at);
      const auto [lo, hi] = begins.equal_range(stretches[at].to.edge);
      for (auto next = lo; next != hi; ++next) {
        if (used[next->second]) continue;
        at = next->second;
        break;
      }
    }
    if (loop.size() > 2) loops.push_back(std::move(loop));
  }
  return loops;
}

/// The plane's own coordinates.
struct Flat {
  Vec3 u;
  Vec3 v;
  explicit Flat(Vec3 normal) {
    const Vec3 aside = std::abs(normal.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
    u = normalized(cross(aside, normal));
    v = cross(normal, u);
  }
  Vec2 operator()(Vec3 p) const { return {dot(u, p), dot(v, p)}; }
};

double twice_area(const std::vector<Vec3>& loop, const Flat& flat) {
  double sum = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i)
    sum += cross(flat(loop[i]) - flat(loop[0]), flat(loop[(i + 1) % loop.size()]) - flat(loop[0]));
  return sum;
}

/// How often the loops run round `p`.
int winding(const std::vector<std::vector<Vec3>>& loops, const Flat& flat, Vec2 p) {
  int count = 0;
  for (const auto& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = flat(loop[i]) - p;
      const Vec2 b = flat(loop[(i + 1) % loop.size()]) - p;
      if ((a.y <= 0.0) == (b.y <= 0.0)) continue;
      const bool left = cross(a, b) > 0.0;
      if (left == (b.y > a.y)) count += left ? 1 : -1;
    }
  }
  return count;
}

/// Places along a-b, from 0 to 1, where other outlines meet it.
std::vector<double> meetings(Vec2 a, Vec2 b, const std::vector<std::vector<Vec3>>& loops,
                             const Flat& flat) {
  std::vector<double> at{0.0, 1.0};
  const Vec2 d = b - a;
  const double square = dot(d, d);
  const auto add = [&](double t) {
    if (t > 1e-6 && t < 1.0 - 1e-6) at.push_back(t);
  };
  for (const auto& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 p = flat(loop[i]);
      const Vec2 e = flat(loop[(i + 1) % loop.size()]) - p;
      const double across = cross(d, e);
      if (std::abs(across) > 1e-9 * std::sqrt(square * dot(e, e))) {
        const double s = cross(p - a, d) / across;
        if (s >= -1e-9 && s <= 1.0 + 1e-9) add(cross(p - a, e) / across);
      } else if (std::abs(cross(d, p - a)) < kAside * std::sqrt(square)) {
        add(dot(p - a, d) / square);
        add(dot(p + e - a, d) / square);
      }
    }
  }
  std::ranges::sort(at);
  return at;
}

}  // namespace

Halved halved(const Facets& facets, Vec3 normal, double offset) {
  const Plane plane(normal, offset);
  Halved result;
  result.rest.curves = facets.curves;
  std::vector<Stretch> stretches;
  for (const FacetFace& face : facets.faces) cut_face(face, plane, result.rest, stretches);
  for (const FacetEdge& edge : facets.edges) {
    if (!plane.stays(edge.a) && !plane.stays(edge.b)) continue;
    FacetEdge kept = edge;
    if (!plane.stays(edge.a)) kept.a = plane.meet(edge.a, edge.b);
    if (!plane.stays(edge.b)) kept.b = plane.meet(edge.a, edge.b);
    result.rest.edges.push_back(kept);
  }

  const auto loops = chained(stretches);
  for (const auto& loop : loops) {
    std::vector<Vec3> corners;
    for (const std::size_t i : loop) corners.push_back(stretches[i].from.at);
    result.cut.push_back(std::move(corners));
  }
  const Flat flat(normal);
  // Each outer outline with the holes in it is a face.
  std::vector<std::size_t> outer;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    if (twice_area(result.cut[i], flat) > 0.0) outer.push_back(i);
  }
  for (const std::size_t o : outer) {
    FacetFace bare{{result.cut[o]}, normal};
    for (std::size_t i = 0; i < loops.size(); ++i) {
      if (std::ranges::find(outer, i) == outer.end() &&
          winding({result.cut[o]}, flat, flat(result.cut[i].front())) != 0)
        bare.loops.push_back(result.cut[i]);
    }
    result.rest.faces.push_back(std::move(bare));
  }
  // Where prisms of one body touch, there is no outline.
  for (const auto& loop : loops) {
    for (const std::size_t i : loop) {
      const Vec3 a = stretches[i].from.at;
      const Vec3 along = stretches[i].to.at - a;
      const double size = length(along);
      if (size < 1e-9) continue;
      if (outer.size() == 1) {
        result.rest.edges.push_back({a, a + along, normal, stretches[i].normal, false, -1});
        continue;
      }
      const Vec2 from = flat(a);
      const Vec2 to = flat(a + along);
      const Vec2 aside = perpendicular(normalized(to - from)) * kAside;
      const auto at = meetings(from, to, result.cut, flat);
      for (std::size_t k = 1; k < at.size(); ++k) {
        if (at[k] - at[k - 1] < 1e-9) continue;
        const Vec2 middle = from + (to - from) * ((at[k - 1] + at[k]) / 2);
        if (winding(result.cut, flat, middle + aside) > 0 &&
            winding(result.cut, flat, middle - aside) > 0)
          continue;
        result.rest.edges.push_back(
            {a + along * at[k - 1], a + along * at[k], normal, stretches[i].normal, false, -1});
      }
    }
  }
  return result;
}

}  // namespace ribbay

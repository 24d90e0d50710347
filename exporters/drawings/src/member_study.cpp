#include "drawings/member_study.hpp"

#include "shape/facets.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

double low_of(const Box& box, Vec3 d) {
  return std::min(dot(box.lo, d), dot(box.hi, d));
}
double high_of(const Box& box, Vec3 d) {
  return std::max(dot(box.lo, d), dot(box.hi, d));
}

}  // namespace

MemberStudy study_member(const Part& part) {
  MemberStudy m;
  m.box = bounds(*part.shape);
  m.length = m.box.size().z;
  std::vector<Bore> bores;
  for (const PlacedPrism& p : part.shape->prisms) {
    for (Bore bore : p.prism.bores) {
      bore.at = p.frame.point(bore.at);
      bore.direction = p.frame.direction(bore.direction);
      bores.push_back(bore);
    }
  }
  const std::array<Vec3, 4> normals{{{0, 1, 0}, {1, 0, 0}, {0, -1, 0}, {-1, 0, 0}}};
  const std::vector<Drilling> drilled = drillings(bores);
  const auto enters = [](const Drilling& d, Vec3 normal) {
    return dot(d.bore.direction, normal) < -0.7;
  };
  std::vector<std::pair<std::ptrdiff_t, Vec3>> ranked;
  for (const Vec3 n : normals) {
    const auto count =
        std::ranges::count_if(drilled, [&](const Drilling& d) { return enters(d, n); });
    if (count > 0) ranked.emplace_back(-count, n);
  }
  std::ranges::stable_sort(ranked, {}, [](const auto& r) { return r.first; });
  if (ranked.empty()) ranked.emplace_back(0, normals[0]);
  for (const auto& [count, n] : ranked) {
    MemberFace face;
    face.normal = n;
    face.view = {{0, 0, 1}, cross(n, {0, 0, 1})};
    face.low = low_of(m.box, face.view.up);
    face.high = high_of(m.box, face.view.up);
    face.letter = std::string(1, static_cast<char>('A' + m.faces.size()));
    for (const Drilling& d : drilled) {
      if (!enters(d, n)) continue;
      const Vec3 at = d.bore.at;
      m.holes.push_back(
          {d, m.faces.size(), at.z - m.box.lo.z, dot(at, face.view.up) - face.low, {}});
    }
    m.faces.push_back(face);
  }
  std::ranges::stable_sort(m.holes, [](const MemberHole& a, const MemberHole& b) {
    return a.face != b.face     ? a.face < b.face
           : a.along != b.along ? a.along < b.along
                                : a.across < b.across;
  });
  std::map<std::size_t, int> counted;
  for (MemberHole& h : m.holes) h.id = m.faces[h.face].letter + std::to_string(++counted[h.face]);
  for (const Drilling& d : drilled) {
    if (std::abs(d.bore.direction.z) > 0.7) m.end_holes.push_back(d);
  }
  return m;
}

ViewFrame end_frame(const MemberStudy& member, bool end_1) {
  const MemberFace& front = member.faces.front();
  return {end_1 ? front.normal : -front.normal, front.view.up};
}

Drawn end_lines(const Part& part, const ViewFrame& end, double scale) {
  const FacetOptions options{
      .chord = 0.03 / scale, .coarse = false, .bores = true, .smallest = 0.7 / scale};
  return visible_lines({facets(*part.shape, options)}, end, {.shortest = 0.1 / scale});
}

}  // namespace ribbay

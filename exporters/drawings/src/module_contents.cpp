#include "module_contents.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kSameStation = 0.5;  // positions closer than this print as one, mm
constexpr double kAlong =
    0.6;  // a part longer along an axis than this share of its length runs along it
constexpr double kThin = 0.2;

struct Span {
  double lo;
  double hi;
  double size() const { return hi - lo; }
};

Span span(const Box& box, Vec3 axis) {
  const double a = dot(box.lo, axis);
  const double b = dot(box.hi, axis);
  return {std::min(a, b), std::max(a, b)};
}

struct Candidate {
  double at;     ///< the edge that would be dimensioned
  double other;  ///< the edge across from it
  double weight;
  bool panel;
};

bool near(double a, double b) {
  return std::abs(a - b) < kSameStation;
}

std::vector<Candidate> candidates(const Layout& layout, const ModuleContents& contents, Vec3 axis,
                                  Vec3 depth, Edge edge) {
  std::vector<Candidate> out;
  const auto consider = [&](std::size_t index, bool fixed) {
    const Part& part = layout.parts[index];
    if (part.kind == PartKind::hardware) return;
    const Box box = bounds(part);
    const Span s = span(box, axis);
    const Vec3 size = box.size();
    const double longest = std::max({size.x, size.y, size.z});
    // What runs along the axis ends on others; what stands across it has a position.
    if (s.size() > kAlong * longest) return;
    if (!fixed && span(box, depth).size() > kThin * longest) return;  // inside of a drawer
    const bool thin = s.size() < kThin * longest;
    const double weight = longest * (part.kind == PartKind::member ? 4.0 : thin ? 2.0 : 1.0);
    const bool upper = edge == Edge::upper;
    out.push_back(
        {upper ? s.hi : s.lo, upper ? s.lo : s.hi, weight, part.kind == PartKind::panel && thin});
  };
  for (const std::size_t i : contents.fixed) consider(i, true);
  for (const std::size_t i : contents.movable) consider(i, false);
  return out;
}

}  // namespace

ModuleContents contents_of(const Layout& layout, const Module& module) {
  ModuleContents c;
  std::set<std::string> moving;
  for (const Motion& motion : layout.motions)
    moving.insert(motion.parts.begin(), motion.parts.end());
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (part.module != module.name) continue;
    if (part.kind == PartKind::equipment) {
      c.equipment.push_back(i);
      continue;
    }
    c.made.push_back(i);
    (moving.contains(part.id) ? c.movable : c.fixed).push_back(i);
    if (part.kind != PartKind::hardware) c.box.add(bounds(part));
  }
  return c;
}

std::map<std::size_t, std::string> marks_of(const PageSet& set) {
  std::map<std::size_t, std::string> marks;
  for (const PartType& type : set.types) {
    for (const std::size_t part : type.parts) marks[part] = type.mark;
  }
  return marks;
}

std::vector<double> stations(const Layout& layout, const ModuleContents& contents, Vec3 axis,
                             Vec3 depth, Edge edge, std::size_t most) {
  std::vector<Candidate> found = candidates(layout, contents, axis, depth, edge);
  std::vector<double> carried;
  for (const Candidate& c : found) {
    if (!c.panel) continue;
    const bool lies_on =
        std::ranges::any_of(found, [&](const Candidate& s) { return near(s.at, c.other); });
    if (lies_on) carried.push_back(c.at);
  }
  std::erase_if(found, [&](const Candidate& c) {
    return c.panel && std::ranges::any_of(carried, [&](double at) { return near(at, c.at); });
  });
  std::ranges::stable_sort(found, {}, &Candidate::at);
  std::vector<Candidate> merged;
  for (const Candidate& c : found) {
    if (!merged.empty() && near(c.at, merged.back().at)) {
      merged.back().weight += c.weight;
    } else {
      merged.push_back(c);
    }
  }
  std::ranges::stable_sort(
      merged, [](const Candidate& a, const Candidate& b) { return a.weight > b.weight; });
  if (merged.size() > most) merged.resize(most);
  std::vector<double> out;
  for (const Candidate& c : merged) out.push_back(c.at);
  std::ranges::sort(out);
  return out;
}

}  // namespace ribbay::detail

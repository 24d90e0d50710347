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
  bool panel;
};

bool near(double a, double b) {
  return std::abs(a - b) < kSameStation;
}

/// A panel that begins where another of the same title ends, a joint's width apart: pieces of a
/// lining.
bool follows_its_like(const Layout& layout, const ModuleContents& contents, const Part& part,
                      Vec3 axis) {
  constexpr double widest = 10.0;  // of a seam, mm
  if (part.kind != PartKind::panel) return false;
  const double from = span(bounds(part), axis).lo;
  return std::ranges::any_of(contents.fixed, [&](std::size_t i) {
    const Part& other = layout.parts[i];
    if (&other == &part || other.kind != PartKind::panel || other.title != part.title) return false;
    const double gap = from - span(bounds(other), axis).hi;
    return gap > -kSameStation && gap < widest;
  });
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
    // What runs along the axis ends on others; what stands across it has a position, and so has a
    // seam between two pieces of one thing.
    if (s.size() > kAlong * longest && !follows_its_like(layout, contents, part, axis)) return;
    if (!fixed && span(box, depth).size() > kThin * longest) return;  // inside of a drawer
    // Lying flat against the axis; a narrow board in a row of them does not.
    const bool flat = part.kind == PartKind::panel && s.size() < 2.0 * part.stock.thickness;
    const bool upper = edge == Edge::upper;
    out.push_back({upper ? s.hi : s.lo, upper ? s.lo : s.hi, flat});
  };
  for (const std::size_t i : contents.fixed) consider(i, true);
  for (const std::size_t i : contents.movable) consider(i, false);
  return out;
}

/// A bunk that folds away is drawn as what it is, and not as what its bearers might hold.
bool mostly_moves(const Layout& layout, const ModuleContents& c) {
  const auto mass = [&](const std::vector<std::size_t>& list) {
    double sum = 0.0;
    for (const std::size_t i : list) sum += layout.parts[i].mass_kg;
    return sum;
  };
  return mass(c.movable) > mass(c.fixed);
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
  if (mostly_moves(layout, c)) {
    c.fixed = c.made;
    c.movable.clear();
  }
  if (c.made.empty()) c.fixed.swap(c.equipment);
  if (c.box.empty()) {
    for (const auto* list : {&c.fixed, &c.movable, &c.equipment}) {
      for (const std::size_t i : *list) c.box.add(bounds(layout.parts[i]));
    }
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

std::map<std::string, std::string> bought_references(const Layout& layout, const Module& module) {
  std::map<std::string, std::string> references;
  for (const Part& part : layout.parts) {
    if (part.module == module.name && is_bought(part)) references[part.stock.key];
  }
  int number = 0;
  for (auto& [key, reference] : references) reference = std::to_string(++number);
  return references;
}

std::map<std::size_t, std::string> references_of(const PageSet& set, const Module& module) {
  const auto marks = marks_of(set);
  const auto bought = bought_references(set.layout, module);
  std::map<std::size_t, std::string> references;
  for (std::size_t i = 0; i < set.layout.parts.size(); ++i) {
    const Part& part = set.layout.parts[i];
    if (part.module != module.name) continue;
    if (is_bought(part)) {
      references[i] = bought.at(part.stock.key);
    } else if (marks.contains(i)) {
      references[i] = marks.at(i);
    }
  }
  return references;
}

std::vector<double> stations(const Layout& layout, const ModuleContents& contents, Vec3 axis,
                             Vec3 depth, Edge edge) {
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
  std::vector<double> out;
  for (const Candidate& c : found) {
    if (out.empty() || !near(c.at, out.back())) out.push_back(c.at);
  }
  return out;
}

}  // namespace ribbay::detail

#include "chain.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <queue>
#include <set>
#include <tuple>

namespace ribbay::detail {

namespace {

/// Faces no further apart are one: above kContact, below what any saw can do.
constexpr double kOneFace = 0.1;

bool same_face(double a, double b) { return std::abs(a - b) <= kOneFace; }

void insert(std::vector<std::size_t>& rising, std::size_t value) {
  const auto at = std::ranges::lower_bound(rising, value);
  if (at == rising.end() || *at != value) rising.insert(at, value);
}

}  // namespace

void add(std::vector<Contributor>& all, const Contributor& more) {
  if (more.what.starts_with("sheet ")) {
    const auto same = std::ranges::find(all, more.what, &Contributor::what);
    if (same != all.end()) {
      same->tolerance += more.tolerance;
      return;
    }
  }
  all.push_back(more);
}

Chains::Chains(const Layout& layout, const std::vector<NearPair>& pairs)
    : layout_{layout},
      links_(layout.parts.size()),
      held_(layout.parts.size()),
      motion_(layout.parts.size(), kFixed),
      on_van_(layout.parts.size(), 0) {
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    index_[layout.parts[i].id] = i;
    boxes_.push_back(bounds(layout.parts[i]));
  }
  for (const NearPair& pair : pairs) {
    if (pair.distance <= kContact && is_part(pair.b)) link(index(pair.a), index(pair.b));
  }
  add_joints();
  add_hosts();
  add_motions();
}

void Chains::link(std::size_t a, std::size_t b) {
  insert(links_[a], b);
  insert(links_[b], a);
}

void Chains::hold(std::size_t a, std::size_t b) {
  if (a == b) return;
  link(a, b);
  insert(held_[a], b);
  insert(held_[b], a);
}

void Chains::add_joints() {
  for (const Joint& joint : layout_.joints) {
    for (const std::string& a : joint.parts) {
      for (const std::string& b : joint.parts) {
        if (is_part(a) && is_part(b)) hold(index(a), index(b));
      }
    }
  }
}

void Chains::add_hosts() {
  for (std::size_t i = 0; i < layout_.parts.size(); ++i) {
    const std::vector<std::string>& hosts = layout_.parts[i].hosts;
    const bool van = std::ranges::any_of(
        hosts, [](const std::string& host) { return host.starts_with("vehicle"); });
    on_van_[i] = on_van_[i] || van;
    for (const std::string& a : hosts) {
      if (!is_part(a)) continue;
      if (van) on_van_[index(a)] = 1;
      hold(i, index(a));
      for (const std::string& b : hosts) {
        if (is_part(b)) hold(index(a), index(b));
      }
    }
  }
}

void Chains::add_motions() {
  for (std::size_t m = 0; m < layout_.motions.size(); ++m) {
    for (const std::string& id : layout_.motions[m].parts) {
      if (is_part(id)) motion_[index(id)] = m;
    }
  }
}

bool Chains::held_together(std::size_t a, std::size_t b) const {
  return std::ranges::binary_search(held_[a], b);
}

Contributor Chains::size_of(std::size_t i, int axis) const {
  const Part& part = layout_.parts[i];
  const Tolerances& off = layout_.tolerances;
  const bool along_z = std::abs(along(part.frame.z, axis)) > 0.9;
  switch (part.kind) {
    case PartKind::member:
      return along_z ? Contributor{"saw", part.id, off.saw}
                     : Contributor{"profile", part.id, off.profile};
    case PartKind::panel: {
      if (!along_z) return {"saw", part.id, off.saw};
      double limit = 0.0;
      if (layout_.catalogue) {
        const auto sheet = layout_.catalogue->sheets.find(part.stock.key);
        if (sheet != layout_.catalogue->sheets.end()) {
          const double mean = sheet->second.thickness;
          limit = std::max(sheet->second.thickest - mean, mean - sheet->second.thinnest);
        }
      }
      return {"sheet " + part.stock.key, part.id, limit > kSame ? limit : off.sheet};
    }
    case PartKind::plank:
      return along_z ? Contributor{"plank", part.id, off.sheet}
                     : Contributor{"saw", part.id, off.saw};
    case PartKind::folded:
      return {"folding", part.id, off.folding};
    case PartKind::hardware:
    case PartKind::equipment:
      break;
  }
  return {"bought", part.id, off.bought};
}

namespace {

/// Where a chain stands: on a face of a part, or anywhere on it after a measurement by hand.
struct Spot {
  std::size_t part = 0;
  double at = 0.0;
  bool free = false;
  bool end = false;  ///< the face that was looked for
  auto key() const { return std::tuple(part, free, free ? 0L : std::lround(at / kOneFace)); }
};

/// One step of the search, and what it adds to the step before.
struct Step {
  Spot spot;
  std::size_t before = 0;
  double squares = 0.0;  ///< of all so far
  std::vector<Contributor> added;
};

std::vector<Contributor> way_to(const std::vector<Step>& steps, std::size_t last) {
  std::vector<Contributor> way;
  for (std::size_t i = last; i != 0; i = steps[i].before) {
    for (const Contributor& c : steps[i].added) add(way, c);
  }
  return way;
}

}  // namespace

std::optional<double> Chains::seat(std::size_t a, std::size_t b, int axis) const {
  const Box& first = boxes_[a];
  const Box& second = boxes_[b];
  if (same_face(along(first.hi, axis), along(second.lo, axis))) return along(first.hi, axis);
  if (same_face(along(first.lo, axis), along(second.hi, axis))) return along(first.lo, axis);
  return std::nullopt;
}

template <class F>
std::optional<std::vector<Contributor>> Chains::search(Face from, int axis, F reached) const {
  std::vector<Step> steps;
  using Open = std::pair<double, std::size_t>;  // the first found goes first among equals
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open;
  std::set<decltype(Spot{}.key())> closed;
  const auto go_on = [&](std::size_t before, const Spot& to, std::vector<Contributor> added) {
    double squares = steps.empty() ? 0.0 : steps[before].squares;
    for (const Contributor& c : added) squares += c.tolerance * c.tolerance;
    open.emplace(squares, steps.size());
    steps.push_back({to, before, squares, std::move(added)});
  };
  const auto through = [&](const Spot& spot, double to) {
    std::vector<Contributor> added;
    if (!spot.free && !same_face(spot.at, to)) added.push_back(size_of(spot.part, axis));
    return added;
  };
  go_on(0, {from.part, from.at}, {});
  while (!open.empty()) {
    const std::size_t now = open.top().second;
    open.pop();
    const Spot spot = steps[now].spot;
    if (spot.end) return way_to(steps, now);
    if (!closed.insert(spot.key()).second) continue;
    if (const std::optional<double> end = reached(spot.part))
      go_on(now, {spot.part, *end, false, true}, through(spot, *end));
    for (const std::size_t next : links_[spot.part]) {
      const Part& part = layout_.parts[next];
      if (part.module != layout_.parts[from.part].module) continue;
      const std::optional<double> face = seat(spot.part, next, axis);
      std::vector<Contributor> added;
      if (face) added = through(spot, *face);
      if (!face) added.push_back({"assembly", part.id, layout_.tolerances.assembly});
      if (motion_[next] != motion_[spot.part])
        added.push_back({"play", part.id, layout_.tolerances.play});
      go_on(now, {next, face.value_or(0.0), !face}, std::move(added));
    }
  }
  return std::nullopt;
}

std::optional<std::vector<Contributor>> Chains::between(Face from, Face to, int axis) const {
  return search(from, axis, [&](std::size_t part) {
    return part == to.part ? std::optional(to.at) : std::nullopt;
  });
}

std::optional<std::vector<Contributor>> Chains::to_side(Face from, int axis, bool high) const {
  const std::string& module = layout_.parts[from.part].module;
  std::optional<double> side;
  for (std::size_t i = 0; i < boxes_.size(); ++i) {
    const Part& other = layout_.parts[i];
    if (other.module != module || other.kind == PartKind::hardware) continue;
    const double end = along(high ? boxes_[i].hi : boxes_[i].lo, axis);
    if (!side || (high ? end > *side : end < *side)) side = end;
  }
  if (!side) return std::nullopt;
  return search(from, axis, [&](std::size_t part) -> std::optional<double> {
    const double end = along(high ? boxes_[part].hi : boxes_[part].lo, axis);
    return same_face(end, *side) ? std::optional(end) : std::nullopt;
  });
}

}  // namespace ribbay::detail

#include "screw_bores.hpp"

#include "base/tolerance.hpp"
#include "layout/metal.hpp"
#include "shape/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace ribbay::detail {

namespace {

/// Along a screw, from the top of its head: where something begins and ends.
using Stretch = std::pair<double, double>;

/// A screw in the axes of a part.
struct Axis {
  Vec3 head;       ///< the top of its head
  Vec3 direction;  ///< unit, to its tip
};

/// What a bore takes of the axis; nullopt when it lies elsewhere.
std::optional<Stretch> along(const Axis& axis, const Bore& bore) {
  const double same = dot(bore.direction, axis.direction);
  if (std::abs(same) < 1.0 - kSame) return std::nullopt;
  const Vec3 off = bore.at - axis.head;
  const double from = dot(off, axis.direction);
  if (length(off - axis.direction * from) > kContact) return std::nullopt;
  return same > 0.0 ? Stretch{from, from + bore.depth} : Stretch{from - bore.depth, from};
}

class Borer {
 public:
  explicit Borer(Layout& layout) : layout_{layout} {}

  void bore(const Part& screw, const Bolt& bolt) {
    const Box own = bounds(*screw.shape);
    const Vec3 head = screw.frame.point({0, 0, own.lo.z});
    const double reach = own.hi.z - own.lo.z;
    Part* into = nullptr;
    double deepest = 0.0;
    for (const std::string& id : screw.hosts) {
      Part* host = bored_here(id);
      if (host == nullptr) continue;
      const Axis axis{host->frame.local_point(head), host->frame.local_direction(screw.frame.z)};
      if (bolt.countersunk) countersink(*host, bolt, axis);
      if (bolt.kind != BoltKind::wood) continue;
      const auto wood = first_stretch(*host, axis);
      if (!wood || wood->first > reach || wood->first < deepest) continue;
      deepest = wood->first;
      into = host;
    }
    if (into != nullptr && screw.hosts.size() > 1) pilot(*into, bolt, screw, head, reach);
  }

 private:
  Part* bored_here(const std::string& id) {
    const auto found = std::ranges::lower_bound(layout_.parts, id, {}, &Part::id);
    if (found == layout_.parts.end() || found->id != id || !is_made(found->kind) || found->flat ||
        found->shape->prisms.size() != 1)
      return nullptr;
    return &*found;
  }

  static const std::vector<Bore>& bores(const Part& part) {
    return part.shape->prisms.front().prism.bores;
  }

  static void add(Part& part, const Hole& hole) {
    Shape shape = *part.shape;
    shape.prisms.front().prism.bores.push_back({.at = hole.at,
                                                .direction = hole.direction,
                                                .diameter = hole.diameter,
                                                .depth = hole.depth,
                                                .through = hole.through,
                                                .thread = hole.thread,
                                                .role = hole.role});
    part.shape = std::make_shared<const Shape>(std::move(shape));
  }

  /// In the part that the head lies in: what lies deeper only lets the shank pass.
  void countersink(Part& part, const Bolt& bolt, const Axis& axis) {
    std::optional<Stretch> hole;
    for (const Bore& bore : bores(part)) {
      const auto stretch = along(axis, bore);
      if (!stretch || std::abs(stretch->first) > bolt.head_height - kContact) continue;
      if (bore.diameter > bolt.head_diameter - kContact) return;  // the head has its room
      if (bore.role != BoreRole::pilot && stretch->second > bolt.head_height + kContact)
        hole = stretch;
    }
    if (!hole) return;
    const auto wood = first_stretch(part, axis);
    if (wood && wood->first > bolt.head_height - kContact) return;
    const double from = std::max(hole->first, 0.0);
    Hole recess = head_recess(bolt, axis.head + axis.direction * from, axis.direction);
    recess.depth -= from;
    add(part, recess);
  }

  /// Where the axis is in the part's material first, however that is divided.
  std::optional<Stretch> first_stretch(const Part& part, const Axis& axis) {
    std::vector<Stretch> all;
    for (const ConvexPiece& piece : pieces_of(part)) {
      const auto span = crossing(piece, axis.head, axis.direction);
      if (span && span->second > kContact) all.push_back(*span);
    }
    std::ranges::sort(all);
    if (all.empty()) return std::nullopt;
    Stretch whole = all.front();
    for (const auto& [from, to] : all) {
      if (from <= whole.second + kContact) whole.second = std::max(whole.second, to);
    }
    return whole;
  }

  const Pieces& pieces_of(const Part& part) {
    const auto [at, fresh] = pieces_.try_emplace(part.id);
    const Prism& prism = part.shape->prisms.front().prism;
    const bool sound =
        fault(prism.section).empty() && std::ranges::all_of(prism.cuts, [](const Cut& cut) {
          return fault({cut.outline, {}}).empty();
        });
    if (fresh && sound) at->second = pieces(*part.shape);
    return at->second;
  }

  void pilot(Part& part, const Bolt& bolt, const Part& screw, Vec3 head, double reach) {
    const auto material = layout_.catalogue->materials.find(part.material);
    if (material == layout_.catalogue->materials.end() || is_metal(material->second)) return;
    const Axis axis{part.frame.local_point(head), part.frame.local_direction(screw.frame.z)};
    const auto wood = first_stretch(part, axis);
    if (!wood) return;
    const bool bored = std::ranges::any_of(bores(part), [&](const Bore& bore) {
      const auto stretch = along(axis, bore);
      return stretch && stretch->first < wood->second - kContact && stretch->second > wood->first;
    });
    if (bored) return;
    const double from = std::max(wood->first, 0.0);
    add(part, {.at = axis.head + axis.direction * from,
               .direction = axis.direction,
               .diameter = pilot_diameter(bolt),
               .depth = std::min(reach, wood->second) - from,
               .through = reach > wood->second - kSame,
               .role = BoreRole::pilot,
               .thread = {}});
  }

  Layout& layout_;
  std::map<std::string, Pieces> pieces_;
};

}  // namespace

Hole head_recess(const Bolt& screw, Vec3 at, Vec3 direction) {
  return {.at = at,
          .direction = direction,
          .diameter = screw.head_diameter,
          .depth = screw.head_height,
          .through = false,
          .role = BoreRole::screw,
          .thread = {}};
}

void bore_for_screws(Layout& layout) {
  if (!layout.catalogue) return;
  Borer borer(layout);
  for (const Part& screw : layout.parts) {
    if (screw.kind != PartKind::hardware) continue;
    const auto bolt = layout.catalogue->bolts.find(screw.stock.key);
    if (bolt == layout.catalogue->bolts.end() || bolt->second.kind == BoltKind::pin) continue;
    borer.bore(screw, bolt->second);
  }
}

}  // namespace ribbay::detail

#pragma once

#include "broad_phase.hpp"
#include "layout/layout.hpp"
#include "recall.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ribbay::detail {

/// A part of the layout or of the van, placed and divided into convex pieces.
struct Body {
  std::string id;
  const Part* part = nullptr;    ///< null for the van and for zones
  const Shape* shape = nullptr;  ///< what the pieces came from; null for the van
  Frame frame;
  std::shared_ptr<const Pieces> shared;  ///< with other bodies alike; in van axes
  Box box;
  Known known;
  std::vector<std::size_t> hosts;   ///< bodies that it sits in and is not checked against, rising
  std::vector<std::size_t> guests;  ///< hardware that has it for a host, rising
  std::vector<std::size_t> joints;  ///< indices into Layout::joints, rising
  const Bolt* bolt = nullptr;       ///< null for what is no bolt or screw

  const Pieces& pieces() const { return *shared; }
  /// Pieces that nothing is kept about.
  void take(Pieces pieces);

  bool of_vehicle() const { return shape == nullptr; }
  bool hardware() const { return part != nullptr && part->kind == PartKind::hardware; }
  bool equipment() const { return part != nullptr && part->kind == PartKind::equipment; }
};

/// Parts first, in the order of the layout, then the bodies of the van.
struct Scene {
  const Layout* layout = nullptr;
  Recall* recall = nullptr;  ///< null: nothing is kept
  std::vector<Body> bodies;
  std::size_t parts = 0;
  std::vector<std::size_t> by_id;   ///< the parts, by their ids
  std::shared_ptr<const BoxTree> tree;  ///< of the bodies' boxes; null once something has moved

  /// The part of this id, by its index; nullopt: there is none.
  std::optional<std::size_t> part_named(std::string_view id) const;
  /// Bodies closer to the box than `margin` on every axis, rising.
  std::vector<std::size_t> near(const Box& box, double margin) const;
};

/// Places all parts; pieces of parts that share a shape are made once. Work is spread over `jobs`
/// threads. What `memo` knows is not made again; null: there is none.
Scene make_scene(const Layout& layout, int jobs, Memo* memo);

/// A zone as a body.
Body zone_body(const Zone& zone, Recall* recall);

/// The pieces of a body with arcs covered to within `chord`; the body's own pieces when it cannot
/// be refined.
Pieces refined_pieces(const Body& body, double chord);

/// True when `name` (a part id, a module, "vehicle" or the id of one body of the van) means this
/// body.
bool means(std::string_view name, const Body& body);

/// Pairs that are not checked: the van against itself, hardware against what it sits in, and
/// hardware against other hardware of the same host or joint.
bool exempt(const Scene& scene, std::size_t a, std::size_t b);

/// True when a joint holds both.
bool joined(const Body& a, const Body& b);

}  // namespace ribbay::detail

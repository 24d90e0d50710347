#pragma once

#include "base/box.hpp"
#include "scan/mesh.hpp"
#include "shape/pieces.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace ribbay {

/// The triangles of a scan, found by place: a tree of boxes. The mesh must outlive it.
class ScanTree {
 public:
  explicit ScanTree(const ScanMesh& mesh);

  /// Triangles whose bounds meet `box`, as rising indices.
  std::vector<std::uint32_t> near(const Box& box) const;
  const ScanMesh& mesh() const { return *mesh_; }

 private:
  struct Node {
    Box box;
    std::uint32_t from = 0;  ///< its triangles: order_[from..to)
    std::uint32_t to = 0;
    std::uint32_t second = 0;  ///< its second child; the first stands behind it; 0: a leaf
  };
  std::uint32_t build(std::uint32_t from, std::uint32_t to);

  const ScanMesh* mesh_;
  std::vector<Box> boxes_;
  std::vector<std::uint32_t> order_;
  std::vector<Node> nodes_;
};

/// A scanned surface that enters a part.
struct ScanContact {
  double depth = 0.0;     ///< moving the part by it along `way` frees it of the surface, mm
  bool at_least = false;  ///< it is not free even after `depth`
  Vec3 way;               ///< unit
  Vec3 at;                ///< middle of the surface inside the part
};

/// Whether and how far a scanned surface lies inside a part. The surface has no inside, so the
/// depth is the shortest shift, along the middle normal of what entered or an axis of the van, that
/// leaves no triangle in the pieces. Surfaces that face another axis of the van, or lie 25 mm apart
/// along it, are judged apart, so that a part which touches wall and floor is not asked to leave
/// both at once; the deepest counts.
/// The search ends with the first shift of at most `enough`, and at `limit`. Each shift is found
/// from intervals of travel (contact_stretch), not by steps. Nullopt when no triangle reaches
/// deeper than kContact into a piece.
std::optional<ScanContact> scan_contact(const Pieces& pieces, const ScanTree& tree, double enough,
                                        double limit);

}  // namespace ribbay

#include "clearance/scan_contact.hpp"

#include <algorithm>
#include <numeric>

namespace ribbay {

namespace {

constexpr std::uint32_t kLeaf = 8;  ///< triangles that are not divided any more

}  // namespace

ScanTree::ScanTree(const ScanMesh& mesh) : mesh_(&mesh), order_(mesh.triangles.size()) {
  boxes_.reserve(mesh.triangles.size());
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    Box& box = boxes_.emplace_back();
    for (const Vec3& p : mesh.corners(t)) box.add(p);
  }
  std::iota(order_.begin(), order_.end(), 0U);
  if (!order_.empty()) build(0, static_cast<std::uint32_t>(order_.size()));
}

std::uint32_t ScanTree::build(std::uint32_t from, std::uint32_t to) {
  const auto self = static_cast<std::uint32_t>(nodes_.size());
  nodes_.push_back({{}, from, to, 0});
  Box box;
  Box middles;
  for (std::uint32_t i = from; i < to; ++i) {
    box.add(boxes_[order_[i]]);
    middles.add(boxes_[order_[i]].centre());
  }
  nodes_[self].box = box;
  if (to - from <= kLeaf) return self;
  const Vec3 size = middles.size();
  const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
  const std::uint32_t half = from + (to - from) / 2;
  std::nth_element(order_.begin() + from, order_.begin() + half, order_.begin() + to,
                   [&](std::uint32_t a, std::uint32_t b) {
                     const double at_a = boxes_[a].centre()[axis];
                     const double at_b = boxes_[b].centre()[axis];
                     return at_a != at_b ? at_a < at_b : a < b;
                   });
  build(from, half);
  const std::uint32_t second = build(half, to);
  nodes_[self].second = second;
  return self;
}

std::vector<std::uint32_t> ScanTree::near(const Box& box) const {
  std::vector<std::uint32_t> found;
  std::vector<std::uint32_t> open;
  if (!nodes_.empty()) open.push_back(0);
  while (!open.empty()) {
    const std::uint32_t at = open.back();
    open.pop_back();
    const Node& node = nodes_[at];
    if (!ribbay::near(node.box, box, 0.0)) continue;
    if (node.second != 0) {
      open.push_back(node.second);
      open.push_back(at + 1);
      continue;
    }
    for (std::uint32_t i = node.from; i < node.to; ++i) {
      if (ribbay::near(boxes_[order_[i]], box, 0.0)) found.push_back(order_[i]);
    }
  }
  std::ranges::sort(found);
  return found;
}

}  // namespace ribbay

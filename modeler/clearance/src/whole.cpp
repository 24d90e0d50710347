#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "checks.hpp"
#include "clearance/separation.hpp"
#include "findings.hpp"

#include <map>
#include <numeric>
#include <optional>

namespace ribbay::detail {

namespace {

/// Groups of pieces that hold together: `of_piece` numbers them from 0.
struct Groups {
  std::vector<std::size_t> of_piece;
  std::size_t count = 0;
};

/// Pieces of one shape share whole faces, so what only comes near is another group.
Groups groups_of(const Pieces& pieces) {
  std::vector<std::size_t> root(pieces.size());
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&root](std::size_t i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    for (std::size_t k = i + 1; k < pieces.size(); ++k) {
      if (find(i) == find(k) || !near(pieces[i].box, pieces[k].box, kContact)) continue;
      if (separation(pieces[i], pieces[k], kContact).distance <= kContact) root[find(k)] = find(i);
    }
  }
  Groups groups;
  std::map<std::size_t, std::size_t> numbers;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto [number, fresh] = numbers.try_emplace(find(i), numbers.size());
    groups.of_piece.push_back(number->second);
  }
  groups.count = numbers.size();
  return groups;
}

/// The middle of the smallest group: what falls off.
Vec3 middle_of_smallest(const Pieces& pieces, const Groups& groups) {
  std::vector<Box> boxes(groups.count);
  for (std::size_t i = 0; i < pieces.size(); ++i) boxes[groups.of_piece[i]].add(pieces[i].box);
  return std::ranges::min_element(boxes, {}, [](const Box& box) {
           const Vec3 size = box.size();
           return size.x * size.y * size.z;
         })->centre();
}

/// Nullopt when the pieces hold together.
std::optional<Fallen> fallen(const Pieces& pieces) {
  const Groups groups = groups_of(pieces);
  if (groups.count < 2) return std::nullopt;
  return Fallen{groups.count, middle_of_smallest(pieces, groups)};
}

}  // namespace

void check_whole(const Scene& scene, int jobs, ClearanceResult& result) {
  std::vector<std::optional<Fallen>> slots(scene.parts);
  for_each_slot(scene.parts, jobs, [&](std::size_t i) {
    const Body& body = scene.bodies[i];
    if (!is_made(body.part->kind) || body.pieces().size() < 2) return;
    const auto work = [&] { return fallen(body.pieces()); };
    slots[i] = body.known ? body.known.recall->wholes.get({body.known.number}, work) : work();
  });
  for (std::size_t i = 0; i < scene.parts; ++i) {
    if (slots[i])
      result.findings.push_back(
          not_whole_finding(*scene.bodies[i].part, slots[i]->bodies, slots[i]->at));
  }
}

}  // namespace ribbay::detail

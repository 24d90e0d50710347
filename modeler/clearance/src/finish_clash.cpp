#include "finish_clash.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"

#include <vector>

namespace ribbay::detail {

namespace {

bool has_finish(const Body& body) {
  return body.part != nullptr && body.part->finished != nullptr;
}

/// As it is sawn; precondition: it has a finish.
Body bare(const Body& body) {
  Body sawn = body;
  sawn.shape = body.part->shape.get();
  Pieces there = pieces(*sawn.shape);
  for (ConvexPiece& piece : there) piece = placed(piece, body.frame);
  sawn.take(std::move(there));
  return sawn;
}

void name_finishes(const Scene& scene, const Body& body, std::vector<std::string>& names) {
  const LengthStyle show = scene.layout->project.show;
  for (const Covering& covering : body.part->coverings) {
    std::string title = covering.finish;
    if (const Catalogue* stock = scene.layout->catalogue.get()) {
      const auto finish = stock->finishes.find(covering.finish);
      if (finish != stock->finishes.end()) title = finish->second.title;
    }
    names.push_back(title + ", " + value_text(covering.thickness, Unit::mm, show) + " on " +
                    body.id);
  }
}

}  // namespace

std::optional<std::string> finishes_at_fault(const Scene& scene, const Body& a, const Body& b) {
  const auto part = [](const Body& first, const Body& second) {
    return !measure(first, second, -kContact).may_clash();
  };
  const bool without_a = has_finish(a) && part(bare(a), b);
  const bool without_b = has_finish(b) && part(a, bare(b));
  const bool without_both =
      without_a || without_b || (has_finish(a) && has_finish(b) && part(bare(a), bare(b)));
  if (!without_both) return std::nullopt;
  const bool neither_alone = !without_a && !without_b;
  std::vector<std::string> names;
  if (without_a || neither_alone) name_finishes(scene, a, names);
  if (without_b || neither_alone) name_finishes(scene, b, names);
  return join(names, "; ");
}

}  // namespace ribbay::detail

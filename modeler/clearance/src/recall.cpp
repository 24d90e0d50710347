#include "recall.hpp"

#include "body_pair.hpp"
#include "clearance/near.hpp"
#include "motion_answers.hpp"
#include "shape/closed_mesh.hpp"
#include "way_gap.hpp"

namespace ribbay {

namespace detail {

namespace {

/// What the words that follow are the content of.
enum class Kind : Word { prisms, mesh, pieces, place, shifted, gone };

/// Content as words. Every list begins with its length, so that no two contents look alike.
class Writer {
 public:
  explicit Writer(Kind kind) { add(static_cast<Word>(kind)); }

  void add(Word value) { words_.push_back(value); }
  void add(double value) { words_.push_back(word(value)); }
  void add(Vec2 v) {
    add(v.x);
    add(v.y);
  }
  void add(Vec3 v) {
    add(v.x);
    add(v.y);
    add(v.z);
  }
  void add(const Frame& frame) {
    for (const Vec3& each : {frame.origin, frame.x, frame.y, frame.z}) add(each);
  }
  void add(const Corner& corner) {
    add(corner.at);
    add(corner.radius);
  }
  template <class Each>
  void add(const std::vector<Each>& list) {
    add(static_cast<Word>(list.size()));
    for (const Each& each : list) add(each);
  }
  void add(const Region& region) {
    add(region.outer);
    add(region.holes);
  }
  void add(const Cut& cut) {
    add(cut.outline);
    add(cut.from);
    add(cut.to);
  }
  /// Bores are filled in pieces, and what stands in for the section on drawings is in none.
  void add(const PlacedPrism& placed) {
    add(placed.prism.section);
    add(placed.prism.height);
    add(placed.prism.cuts);
    add(placed.frame);
  }
  void add(const ClosedMesh::Triangle& triangle) {
    for (const std::uint32_t corner : triangle) add(static_cast<Word>(corner));
  }
  void add(int index) { add(static_cast<Word>(index)); }
  void add(const ConvexPiece& piece) {
    add(piece.vertices);
    add(piece.faces);
    add(piece.normals);
    add(piece.edges);
    add(piece.excess);
  }

  Words take() { return std::move(words_); }

 private:
  Words words_;
};

}  // namespace

Word Recall::number_of(Words content) {
  return numbers_.get(content, [this] { return ++last_; });
}

Word Recall::number_of(const Shape& shape) {
  Writer writer(shape.mesh ? Kind::mesh : Kind::prisms);
  if (shape.mesh) {
    writer.add(shape.mesh->points);
    writer.add(shape.mesh->triangles);
  } else {
    writer.add(shape.prisms);
  }
  return number_of(writer.take());
}

Word Recall::number_of(const Pieces& placed) {
  Writer writer(Kind::pieces);
  writer.add(placed);
  return number_of(writer.take());
}

Word Recall::number_of(Word shape, const Frame& frame) {
  Writer writer(Kind::place);
  writer.add(shape);
  writer.add(frame);
  return number_of(writer.take());
}

Word Recall::number_of(Word body, Vec3 by) {
  Writer writer(Kind::shifted);
  writer.add(body);
  writer.add(by);
  return number_of(writer.take());
}

Word Recall::number_of(Word body, const Motion& motion, double travel) {
  std::array<Word, 8> way{};
  put_motion(way, 0, motion, travel);
  Writer writer(Kind::gone);
  writer.add(body);
  for (const Word each : way) writer.add(each);
  return number_of(writer.take());
}

}  // namespace detail

Memo::Memo() : recall_(std::make_unique<detail::Recall>()) {}
Memo::~Memo() = default;

Memo::Uses Memo::uses() const {
  Uses uses;
  recall_->shapes.add_to(uses.shapes);
  recall_->places.add_to(uses.places);
  recall_->measured.add_to(uses.pairs);
  recall_->clashes.add_to(uses.pairs);
  recall_->nearest.add_to(uses.pairs);
  recall_->hits.add_to(uses.motions);
  recall_->ways.add_to(uses.motions);
  recall_->sweeps.add_to(uses.motions);
  return uses;
}

}  // namespace ribbay

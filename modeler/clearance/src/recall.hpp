#pragma once

#include "answers.hpp"
#include "base/box.hpp"
#include "layout/layout.hpp"

#include <array>
#include <memory>
#include <optional>

namespace ribbay {
struct Contact;
struct NearPair;
}

/// What a memo knows.
namespace ribbay::detail {

struct Hit;
struct Measured;
struct PairFound;
struct WayGap;

/// A shape's pieces where they stand.
struct Placed {
  std::shared_ptr<const Pieces> pieces;
  Box box;
};

/// How many bodies a cut has left of one, and where the smallest lies.
struct Fallen {
  std::size_t bodies = 0;
  Vec3 at;
};

/// How a body is called by a memo: the number of its shape in its place.
struct Known {
  Recall* recall = nullptr;  ///< null: nothing is kept about it
  Word number = 0;
  explicit operator bool() const { return recall != nullptr; }
};

/// Both bodies, and one limit or two.
using PairQuestion = std::array<Word, 4>;
/// Both bodies, and what one of them does or both do.
using HitQuestion = std::array<Word, 10>;
/// The same, and a limit.
using WayQuestion = std::array<Word, 11>;
using SweepsQuestion = std::array<Word, 18>;

class Recall {
 public:
  /// The number of a shape; of the same content always the same.
  Word number_of(const Shape& shape);
  /// The number of what stands where it is laid out.
  Word number_of(const Pieces& placed);
  /// The number of a shape in a place.
  Word number_of(Word shape, const Frame& frame);
  /// The number of a body that has been shifted.
  Word number_of(Word body, Vec3 by);
  /// The number of a body that has gone its way.
  Word number_of(Word body, const Motion& motion, double travel);

  Answers<std::array<Word, 1>, std::shared_ptr<const Pieces>> shapes;
  Answers<std::array<Word, 1>, Placed> places;
  Answers<std::array<Word, 1>, std::optional<Fallen>> wholes;
  Answers<PairQuestion, std::shared_ptr<const Measured>> measured;
  Answers<PairQuestion, std::shared_ptr<const Contact>> clashes;
  Answers<PairQuestion, std::shared_ptr<const NearPair>> nearest;
  Answers<HitQuestion, std::shared_ptr<const Hit>> hits;
  Answers<WayQuestion, std::shared_ptr<const WayGap>> ways;
  Answers<SweepsQuestion, std::shared_ptr<const PairFound>> sweeps;

 private:
  Word number_of(Words content);

  Answers<Words, Word> numbers_;
  std::atomic<Word> last_ = 0;  ///< numbers are never used twice
};

/// Adds what `motion` does over `travel` to a question, from its place `at` on: eight words.
template <class Question>
void put_motion(Question& question, std::size_t at, const Motion& motion, double travel) {
  question[at] = static_cast<Word>(motion.kind);
  for (int axis = 0; axis < 3; ++axis) {
    question[at + 1 + static_cast<std::size_t>(axis)] = word(motion.axis[axis]);
    question[at + 4 + static_cast<std::size_t>(axis)] = word(motion.origin[axis]);
  }
  question[at + 7] = word(travel);
}

}  // namespace ribbay::detail

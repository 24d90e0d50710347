#include "slide_pair.hpp"

namespace ribbay::detail {

namespace {

/// Part of a slide's thickness that each half fills; the rest is the play between them.
constexpr double kSlideHalf = 0.4;
/// Screws of the halves from their ends (common practice, no source).
constexpr double kFixedFront = 53.0;
constexpr double kFixedBack = 40.0;
constexpr double kMovingEnd = 60.0;
/// In a board that two slides share, the screws of the right one must pass those of the left one.
constexpr double kStagger = 16.0;

/// One slide of a pair, its screws in `moving` when they ride along.
void add_slide(const Carcass& carcass, const SlidePair& pair, bool left, const FixSlide& fix,
               std::vector<std::string>& moving) {
  const Slide& slide = *pair.slide;
  const SlideSide& side = pair.sides[left ? 0 : 1];
  const std::string word = carcass.side(left);
  const std::string name = pair.name + ".slide." + word;
  const std::string title = pair.title + ", slide " + word;
  const double thick = kSlideHalf * slide.thickness;
  const Shape half = box_shape({0, 0, 0}, {thick, slide.length, slide.height});
  const Vec3 outward{left ? -1.0 : 1.0, 0, 0};
  const double rider_face = side.face - outward.x * slide.thickness;
  const auto add_half = [&](const char* which, const char* words, double x,
                            const std::string& key) {
    return carcass.shop.add_hardware(
        name + which, title + words, key, {}, half,
        Frame{.origin = {x, pair.front, pair.middle - slide.height / 2}}, slide.mass_kg / 4, {});
  };
  std::vector<std::string> hardware{
      add_half(".fixed", ", fixed", left ? side.face : side.face - thick,
               left ? slide.key : std::string{}),
      add_half(".moving", ", moving", left ? rider_face - thick : rider_face, {})};
  moving.push_back(hardware.back());

  const double stagger = left ? 0.0 : kStagger;
  const double rear = pair.front + slide.length;
  int count = 0;
  for (const double y : {pair.front + kFixedFront + stagger, rear - kFixedBack - stagger}) {
    hardware.push_back(fix({.name = name + ".fixed.screw_" + std::to_string(++count),
                            .field = pair.screw,
                            .at = {side.face - outward.x * kSlideSteel, y, pair.middle},
                            .direction = outward,
                            .from = name + ".fixed",
                            .into = side.carrier}));
  }
  count = 0;
  for (const double y : {pair.rider_front + kMovingEnd, pair.rider_back - kMovingEnd}) {
    hardware.push_back(
        carcass.joinery.screw({.name = name + ".moving.screw_" + std::to_string(++count),
                               .field = pair.screw,
                               .at = {rider_face + outward.x * kSlideSteel, y, pair.middle},
                               .direction = -outward,
                               .from = name + ".moving",
                               .into = side.rider}));
    moving.push_back(hardware.back());
  }
  carcass.joinery.join("slide", side.rider, side.carrier, std::move(hardware));
}

}  // namespace

std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& fix) {
  std::vector<std::string> moving;
  for (const bool left : {true, false}) add_slide(carcass, pair, left, fix, moving);
  return moving;
}

std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair) {
  return add_slide_pair(carcass, pair,
                        [&](const Screw& screw) { return carcass.joinery.screw(screw); });
}

}  // namespace ribbay::detail

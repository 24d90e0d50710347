#include "slide_pair.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Part of a slide's thickness that each half fills; the rest is the play between them.
constexpr double kSlideHalf = 0.4;
/// Screws of the halves from their ends (common practice, no source).
constexpr double kFixedFront = 53.0;
constexpr double kFixedBack = 40.0;
constexpr double kMovingEnd = 60.0;
/// In a board that two slides share, the screws of a right one must pass those of the left one
/// behind it: they take other holes of the slide.
constexpr double kStagger = 16.0;
/// What slides bear on the road, over the mass at rest: jolts (common practice, no source).
constexpr double kJolts = 1.5;

/// One slide of a pair; what of it rides along is added to `moving`.
void add_slide(const Carcass& carcass, const SlidePair& pair, bool left,
               const FixSlide& into_carrier, const FixSlide& into_rider,
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
        pair.axes * Frame{.origin = {x, pair.front, pair.middle - slide.height / 2}},
        slide.mass_kg / 4, {});
  };
  std::vector<std::string> hardware{
      add_half(".fixed", ", fixed", left ? side.face : side.face - thick,
               left ? slide.key : std::string{}),
      add_half(".moving", ", moving", left ? rider_face - thick : rider_face, {})};
  moving.push_back(hardware.back());

  // `out` leads from the half to what it lies on.
  const auto fix = [&](const char* which, double face, Vec3 out, std::array<double, 2> places,
                       const std::string& into, const FixSlide& by) {
    std::vector<std::string> ids;
    int count = 0;
    for (const double y : places) {
      const Screw screw{.name = name + which + ".screw_" + std::to_string(++count),
                        .field = pair.screw,
                        .at = pair.axes.point({face - out.x * kSlideSteel, y, pair.middle}),
                        .direction = pair.axes.direction(out),
                        .from = name + which,
                        .into = into};
      const auto made = by ? by(screw) : std::vector{carcass.joinery.screw(screw)};
      ids.insert(ids.end(), made.begin(), made.end());
    }
    hardware.insert(hardware.end(), ids.begin(), ids.end());
    return ids;
  };
  const double stagger = side.shared && !left ? kStagger : 0.0;
  const double rear = pair.front + slide.length;
  fix(".fixed", side.face, outward,
      {pair.front + kFixedFront + stagger, rear - kFixedBack - stagger}, side.carrier,
      into_carrier);
  const auto riding =
      fix(".moving", rider_face, -outward,
          {pair.rider_front + kMovingEnd, pair.rider_back - kMovingEnd}, side.rider, into_rider);
  moving.insert(moving.end(), riding.begin(), riding.end());
  carcass.joinery.join("slide", side.rider, side.carrier, std::move(hardware));
}

}  // namespace

std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& into_carrier, const FixSlide& into_rider) {
  std::vector<std::string> moving;
  for (const bool left : {true, false})
    add_slide(carcass, pair, left, into_carrier, into_rider, moving);
  return moving;
}

std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& into_carrier) {
  return add_slide_pair(carcass, pair, into_carrier, {});
}

void check_slide_load(Workshop& shop, const Slide& slide, const std::vector<std::string>& moving,
                      double more_kg, const Finding& about) {
  double mass = more_kg;
  for (const Part& part : shop.made().parts) {
    if (std::ranges::find(moving, part.id) != moving.end()) mass += part.mass_kg;
  }
  const bool too_much = mass > slide.load_kg;
  if (!too_much && mass * kJolts <= slide.load_kg) return;
  Finding finding = about;
  if (!too_much) {
    finding.code = "slides.little_reserve";
    finding.severity = Severity::warning;
    finding.source = "common practice, no source";
    finding.with("factor", kJolts, Unit::none);
  }
  shop.find(std::move(finding)
                .with("slide", slide.key)
                .with("measured", mass, Unit::kg)
                .with("required", too_much ? slide.load_kg : mass * kJolts, Unit::kg)
                .with("borne", slide.load_kg, Unit::kg));
}

}  // namespace ribbay::detail

#pragma once

#include "carcass.hpp"

#include <array>
#include <functional>
#include <string>
#include <vector>

/// Drawer slides: a pair, each in two halves that run in each other.
namespace ribbay::detail {

/// Thickness of a slide's steel, under its screws' heads (common practice, no source).
inline constexpr double kSlideSteel = 1.5;

/// One of the two sides: what carries the slide, and what rides on it.
struct SlideSide {
  double face = 0.0;    ///< x, in the pair's axes, of the face that carries it
  std::string carrier;  ///< names
  std::string rider;
  bool shared = false;  ///< another slide lies at the back of its carrier
};

/// A pair of slides, closed. Its axes: x to the right as seen by who pulls it out, y against the
/// way it comes out, z up.
struct SlidePair {
  std::string name;  ///< of what slides: parts are NAME.slide.left.fixed and so on
  std::string title;
  const Slide* slide = nullptr;
  double front = 0.0;        ///< y of the front ends
  double middle = 0.0;       ///< z of the middle
  double rider_front = 0.0;  ///< y between which the riders take screws
  double rider_back = 0.0;
  std::string screw;                 ///< field that names the screws into what rides
  std::array<SlideSide, 2> sides{};  ///< left, right
  Frame axes{};                      ///< the pair's axes to the module's
};

/// Fixes one screw of a half to what it lies on, and returns all ids.
using FixSlide = std::function<std::vector<std::string>(const Screw&)>;

/// Both slides with their screws, into what carries and into what rides. Returns what moves. The
/// pair is bought as one: only the first half carries its key.
std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& into_carrier, const FixSlide& into_rider);

/// As above with wood screws into what rides, and, by default, into what carries.
std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& into_carrier = {});

/// Tells whether the pair bears what rides on it: an error `about` with the slide, `measured` and
/// `required`; and warns "slides.little_reserve" of less than half as much again, for jolts on the
/// road (common practice, no source). `more_kg` is what is put in and is no part.
void check_slide_load(Workshop& shop, const Slide& slide, const std::vector<std::string>& moving,
                      double more_kg, const Finding& about);

}  // namespace ribbay::detail

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
  double face = 0.0;    ///< x of the face that carries it
  std::string carrier;  ///< names
  std::string rider;
};

/// A pair of slides, closed.
struct SlidePair {
  std::string name;   ///< of what slides: parts are NAME.slide.left.fixed and so on
  std::string title;
  const Slide* slide = nullptr;
  double front = 0.0;   ///< y of the front ends
  double middle = 0.0;  ///< z of the middle
  double rider_front = 0.0;  ///< y between which the riders take screws
  double rider_back = 0.0;
  std::string screw;             ///< field that names the screws into what rides
  std::array<SlideSide, 2> sides{};  ///< left, right
};

/// Fixes one screw of the half that stands still, and returns its id.
using FixSlide = std::function<std::string(const Screw&)>;

/// Both slides with their screws: those into what rides by the joinery, those into what carries by
/// `fix`. Returns what moves. The pair is bought as one: only the first half carries its key.
std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair,
                                        const FixSlide& fix);

/// As above where boards carry them, with the same screws.
std::vector<std::string> add_slide_pair(const Carcass& carcass, const SlidePair& pair);

}  // namespace ribbay::detail

#pragma once

#include "layout/layout.hpp"

#include <string>
#include <string_view>
#include <vector>

/// Why a bolt or screw has the length that it has.
namespace ribbay {

/// What a plate below the floor is called among the layers.
inline constexpr std::string_view kPlateBelow = "plate under the floor";

/// Something between the head and what holds the thread, along the bolt.
struct GripLayer {
  std::string what;  ///< part id, "vehicle/floor", "vehicle/deck" of its layers, or "slot lips"
  double thickness = 0.0;
  bool sleeve = false;  ///< it is soft: a compression sleeve as long as it is thick stands in it
};

enum class GripVerdict {
  reaches,  ///< it holds as far as it must and nothing is in the way of its tip
  too_short,
  bottoms,   ///< its tip meets the floor of the slot, or comes out of what it holds in
  not_known  ///< what it sits in is not drawn with a thickness
};

/// One bolt or screw as it is laid out.
struct Grip {
  std::string id;
  std::vector<GripLayer> layers;  ///< clamped, from the head on; a sunk head lies in the first
  /// What holds the thread: part id, "vehicle/floor", "vehicle/NAME" of its hard point, "nut M8",
  /// "rivet nut M8", or empty.
  std::string into;
  std::string thread{};  ///< "M8" of a nut or rivet nut that is no part of the layout; else empty
  bool under_floor = false;   ///< that nut lies under the van's floor
  bool riveted = false;       ///< it is a rivet nut in the van's sheet
  std::string not_counted{};  ///< joist below the floor whose metal the survey does not tell
  double clamped = 0.0;       ///< thickness of all layers under the head's seat, mm
  double held = 0.0;          ///< thread in what holds it, mm
  double shortest = 0.0;      ///< lengths that would do, mm; the head's sinking counted in
  double longest = 0.0;       ///< 0: any; it may stand out behind
  GripVerdict verdict = GripVerdict::not_known;
};

std::string_view name(GripVerdict verdict);

/// Of every bolt and screw of the layout that has a thread, sorted by id. What it sits in is
/// crossed along its axis as it is with its finishes, cuts left out, bores filled. In a slot nut
/// the thread must fill the nut and stay off the slot's floor; in wood and metal it must go in by
/// kScrewHold or kThreadHold of its diameter, and must not come out of wood. Behind profiles, the
/// van's floor and its other bodies the tip may stand free.
///
/// A bolt whose holes are all clear takes a washer and a nut behind them, as below; one into a rib
/// or the wall of the van, whose sheet holds no thread, a rivet nut (common practice, no source).
///
/// A bolt through the floor clamps the floor's layers, the flange of the joist that it meets, the
/// plate below and a washer (ISO 7089), and takes a nut there (ISO 4032), out of which it stands by
/// two turns of its thread (common practice, no source). At a hard point it clamps the floor alone,
/// and must go into the thread there by kSteelThreadHold of its diameter.
std::vector<Grip> grips(const Layout& layout);
/// Of those of these parts alone, in their order.
std::vector<Grip> grips(const Layout& layout, const std::vector<std::string>& ids);

}  // namespace ribbay

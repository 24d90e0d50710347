#pragma once

/// How far screws and bolts must go into what holds them.
namespace ribbay {

/// What must be left of a board in front of a screw's tip, mm (common practice, no source).
inline constexpr double kScrewSkin = 1.0;
/// A screw should hold over at least this many diameters (common practice, no source).
inline constexpr double kScrewHold = 1.5;
/// A bolt in aluminium should hold over at least this many diameters (common practice, no source).
inline constexpr double kThreadHold = 1.5;
/// The same in steel (common practice, no source).
inline constexpr double kSteelThreadHold = 1.0;

}  // namespace ribbay

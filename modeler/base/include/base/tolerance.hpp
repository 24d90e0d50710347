#pragma once

/// Every tolerance of the program, each with its reason. A new one needs a reason too. All in mm.
namespace ribbay {

/// Two faces closer than this touch: above kernel noise (1e-7), below anything a saw can do (0.1).
inline constexpr double kContact = 0.01;

/// Two computed sizes closer than this are the same: above rounding of sums of sizes up to 10 m (1e-12),
/// far below kContact.
inline constexpr double kSame = 1e-6;

/// What lists and drawings round to when they print mm.
inline constexpr double kPrinted = 0.001;

/// Outlines are snapped to this grid before they are divided: fine enough to stay under kContact, coarse
/// enough for exact integer arithmetic over 10 m.
inline constexpr double kGrid = 0.001;

/// Pieces to be cut are rounded up and stock is rounded down to this.
inline constexpr double kCut = 0.01;

}  // namespace ribbay

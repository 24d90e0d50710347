#pragma once

/// What plan_bars() and plan_sheets() take, so that plans end in seconds and no sum of whole
/// numbers runs over.
namespace ribbay {

/// Most pieces of one order, counted singly.
inline constexpr int kMostBarPieces = 100'000;
inline constexpr int kMostSheetPieces = 100'000;

/// Sizes closer than this are one size for a saw, mm: no fence is set finer (common practice, no
/// source), and no blade takes off less. A piece stays larger by what would be cut off.
inline constexpr double kSawn = 0.1;

/// Longest piece or stock, mm.
inline constexpr double kLongestCut = 30'000.0;

/// Highest price of one bar or sheet.
inline constexpr double kDearestStock = 100'000.0;

}  // namespace ribbay

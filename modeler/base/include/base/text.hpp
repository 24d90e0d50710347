#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"

namespace ribbay {

/// How lengths are shown to people. Files in JSON are always mm.
enum class LengthStyle { millimetres, inches };

/// Shortest text that reads back as the same number; the same on every machine and in every locale.
std::string number_text(double value);

/// `value` rounded to `decimals` places, trailing zeros dropped, never "-0".
std::string rounded_text(double value, int decimals);

/// A length for people, without its unit: "482.6", or inches to 1/64 as "19" or "5 13/64".
std::string length_text(double mm, LengthStyle style);

/// A value with its unit: "482.6 mm", "5 13/64 in", "45 deg", "12.5 kg".
std::string value_text(double value, Unit unit, LengthStyle style);

/// A unit direction in the van in words, "to the rear", or in numbers when it is none of the van's
/// own.
std::string way_text(Vec3 way);

/// A temperature in K for people: "-20 degC".
std::string celsius_text(double kelvin);

/// Characters of UTF-8 text: the places that it takes on a screen.
std::size_t character_count(std::string_view text);

std::string join(std::span<const std::string> words, std::string_view between);

/// The parts of `text` between the separators, empty ones included: "a..b" gives "a", "", "b".
std::vector<std::string> split(std::string_view text, char between = '.');

/// The candidate nearest to `word` in spelling, or an empty string when none is near enough to suggest:
/// at most a third of the longer word's letters may differ.
std::string nearest(std::string_view word, std::span<const std::string> candidates);

/// 64 bits of FNV-1a, as 16 hex digits. For sharing equal things, not for security.
std::string fingerprint(std::string_view bytes);

}  // namespace ribbay

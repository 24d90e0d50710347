#include "base/text.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <numeric>

namespace ribbay {

std::string number_text(double value) {
  if (value == 0.0) return "0";  // also for -0.0
  std::array<char, 64> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return {buffer.data(), end};
}

std::string rounded_text(double value, int decimals) {
  std::array<char, 384> buffer;
  const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                    std::chars_format::fixed, decimals);
  std::string text(buffer.data(), result.ptr);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string length_text(double mm, LengthStyle style) {
  // A half goes outwards, whichever side of it the sum of sizes came out: one length has one text.
  if (style == LengthStyle::millimetres) return rounded_text(mm + std::copysign(kSame, mm), 1);
  constexpr std::int64_t parts = 64;
  const auto total = static_cast<std::int64_t>(std::llround(std::abs(mm) / 25.4 * parts));
  const std::int64_t whole = total / parts;
  const std::int64_t rest = total % parts;
  std::string text = mm < 0 && total > 0 ? "-" : "";
  if (rest == 0) return text + std::to_string(whole);
  const std::int64_t common = std::gcd(rest, parts);
  if (whole > 0) text += std::to_string(whole) + " ";
  return text + std::to_string(rest / common) + "/" + std::to_string(parts / common);
}

std::string value_text(double value, Unit unit, LengthStyle style) {
  switch (unit) {
    case Unit::none: return number_text(value);
    case Unit::count: return rounded_text(value, 0);
    case Unit::mm:
      if (style == LengthStyle::millimetres) {
        // Small overlaps and gaps need their hundredths.
        return rounded_text(value, std::abs(value) < 10.0 ? 3 : 1) + " mm";
      }
      return length_text(value, style) + " in";
    case Unit::mm2: return rounded_text(value, 1) + " mm2";
    case Unit::mm3: return rounded_text(value, 1) + " mm3";
    case Unit::degree: return rounded_text(value, 2) + " deg";
    case Unit::kg: return rounded_text(value, 2) + " kg";
    case Unit::newton: return rounded_text(value, 1) + " N";
    case Unit::newton_mm: return rounded_text(value, 0) + " N mm";
    case Unit::mpa: return rounded_text(value, 2) + " MPa";
    case Unit::percent: return rounded_text(value, 1) + " %";
  }
  return number_text(value);
}

std::vector<std::string> split(std::string_view text, char between) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t at = text.find(between);
    parts.emplace_back(text.substr(0, at));
    if (at == std::string_view::npos) return parts;
    text.remove_prefix(at + 1);
  }
}

std::size_t character_count(std::string_view text) {
  // Bytes that go on with a character begin with 10.
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string join(std::span<const std::string> words, std::string_view between) {
  std::string text;
  for (const std::string& word : words) {
    if (!text.empty()) text += between;
    text += word;
  }
  return text;
}

namespace {

/// Edit distance where a swap of neighbours counts once (optimal string alignment).
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> now(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        now[j] = std::min(now[j], before[j - 2] + 1);
      }
    }
    before = last;
    last = now;
  }
  return last[b.size()];
}

std::string lower(std::string_view word) {
  std::string text(word);
  std::ranges::transform(text, text.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c == '-' ? '_' : c);
  });
  return text;
}

}  // namespace

std::string way_text(Vec3 way) {
  constexpr std::array<std::pair<Vec3, std::string_view>, 6> words{{{{1, 0, 0}, "way.front"},
                                                                    {{-1, 0, 0}, "way.rear"},
                                                                    {{0, 1, 0}, "way.left"},
                                                                    {{0, -1, 0}, "way.right"},
                                                                    {{0, 0, 1}, "way.up"},
                                                                    {{0, 0, -1}, "way.down"}}};
  for (const auto& [direction, word] : words) {
    if (dot(way, direction) > 0.99999) return say(word);
  }
  // Between the axes: the words of those that count, the largest first, and the exact direction.
  constexpr double little = 0.1;
  std::vector<std::pair<double, std::string>> parts;
  for (const auto& [direction, word] : words) {
    if (dot(way, direction) > little) parts.emplace_back(-dot(way, direction), word);
  }
  std::ranges::stable_sort(parts, {}, [](const auto& part) { return part.first; });
  std::vector<std::string> said;
  for (const auto& [size, word] : parts) said.push_back(say(word));
  return say("way.askew", {{"ways", join(said, " " + say("way.and") + " ")},
                           {"along", "(" + rounded_text(way.x, 3) + ", " + rounded_text(way.y, 3) +
                                         ", " + rounded_text(way.z, 3) + ")"}});
}

std::string celsius_text(double kelvin) {
  constexpr double zero = 273.15;
  return rounded_text(kelvin - zero, 1) + " degC";
}

std::string nearest(std::string_view word, std::span<const std::string> candidates) {
  if (word.size() > 200) return {};
  const std::string wanted = lower(word);
  std::string best;
  std::size_t best_distance = std::string::npos;
  for (const std::string& candidate : candidates) {
    const std::size_t d = distance(wanted, lower(candidate));
    const std::size_t allowed = std::max(std::max(wanted.size(), candidate.size()), std::size_t{3}) / 3;
    if (d <= allowed && d < best_distance) {
      best = candidate;
      best_distance = d;
    }
  }
  return best;
}

std::string fingerprint(std::string_view bytes) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char c : bytes) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 0x100000001b3U;
  }
  constexpr std::string_view digits = "0123456789abcdef";
  std::string text(16, '0');
  for (std::size_t i = 16; i-- > 0; hash >>= 4U) text[i] = digits[hash & 15U];
  return text;
}

}  // namespace ribbay

#include "base/ways.hpp"

#include "base/text.hpp"
#include "base/wording.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <string_view>
#include <utility>
#include <vector>

namespace ribbay {

namespace {

/// By the share of each of six ways in a direction: the main one, then what it is off that.
std::string told(std::array<std::pair<double, std::string_view>, 6> ways) {
  constexpr double least = 0.5;  // degrees: less is nothing that a hand could follow
  constexpr double much = 5.0;   // from there on the angle is told
  std::ranges::stable_sort(ways, std::ranges::greater{},
                           &std::pair<double, std::string_view>::first);
  const auto& [most, main] = ways.front();
  std::vector<std::string> words{say(main)};
  for (const auto& [share, way] : ways) {
    const double off = std::atan2(share, most) * 180.0 / std::numbers::pi;
    if (way == main || off < least) continue;
    words.push_back(off < much
                        ? say("way.slightly", {{"way", say(way)}})
                        : say("way.by", {{"angle", rounded_text(off, 0)}, {"way", say(way)}}));
  }
  return join(words, " " + say("way.and") + " ");
}

}  // namespace

std::string van_way_text(Vec3 way) {
  return told({{{way.x, "way.front"},
                {-way.x, "way.rear"},
                {way.y, "way.left"},
                {-way.y, "way.right"},
                {way.z, "way.up"},
                {-way.z, "way.down"}}});
}

std::string own_way_text(Vec3 way, Vec3 front) {
  const double ahead = dot(way, front);
  const double left = dot(way, cross(front, {0, 0, 1}));
  return told({{{ahead, "way.own_front"},
                {-ahead, "way.own_back"},
                {left, "way.own_left"},
                {-left, "way.own_right"},
                {way.z, "way.up"},
                {-way.z, "way.down"}}});
}

}  // namespace ribbay

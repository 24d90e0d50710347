#pragma once

#include "base/text.hpp"
#include "base/vec.hpp"

#include <array>
#include <string>
#include <vector>

/// Small bodies as files, written here and not by what reads them.
namespace ribbay::testing {

using Corners = std::array<Vec3, 3>;

/// The twelve triangles of a block, counter-clockwise seen from outside.
inline std::vector<Corners> block_triangles(Vec3 lo, Vec3 hi) {
  const auto at = [&](int i) {
    return Vec3{(i & 1) != 0 ? hi.x : lo.x, (i & 2) != 0 ? hi.y : lo.y, (i & 4) != 0 ? hi.z : lo.z};
  };
  constexpr int kQuads[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
  std::vector<Corners> triangles;
  for (const auto& q : kQuads) {
    triangles.push_back({at(q[0]), at(q[1]), at(q[2])});
    triangles.push_back({at(q[0]), at(q[2]), at(q[3])});
  }
  return triangles;
}

/// STL in text.
inline std::string stl_text(const std::vector<Corners>& triangles) {
  std::string text = "solid body\n";
  for (const Corners& corners : triangles) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const Vec3 p : corners) {
      text += "vertex " + number_text(p.x) + " " + number_text(p.y) + " " + number_text(p.z) + "\n";
    }
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid body\n";
}

}  // namespace ribbay::testing

#pragma once

#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// What a test asks of a layout; where the answer is no, it stops and says what was found.
namespace ribbay::testing {

/// The layout, which must be free of errors.
inline Layout sound(Built<std::optional<Layout>> built) {
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *std::move(built.value);
}

/// Modules written in a test, laid out without an error.
inline Layout good(const std::string& modules, const std::vector<std::string>& overrides = {},
                   const std::string& van = kStraightVan) {
  return sound(lay_out_text(modules, overrides, van));
}

inline const Part& part_named(const Layout& layout, const std::string& id) {
  const Part* found = layout.find(id);
  INFO(id);
  REQUIRE(found != nullptr);
  return *found;
}

/// Bounds in mm, to a nanometre.
inline void check_bounds(const Part& part, Vec3 lo, Vec3 hi) {
  const Box found = bounds(part);
  CAPTURE(part.id, found.lo.x, found.lo.y, found.lo.z, found.hi.x, found.hi.y, found.hi.z);
  for (int axis = 0; axis < 3; ++axis) {
    CHECK(found.lo[axis] == Approx(lo[axis]).margin(1e-6));
    CHECK(found.hi[axis] == Approx(hi[axis]).margin(1e-6));
  }
}

/// The one finding of that code.
inline const Finding& only(const Findings& findings, std::string_view code) {
  const auto found = std::ranges::find(findings, code, &Finding::code);
  INFO(words(findings));
  REQUIRE(found != findings.end());
  CHECK(std::ranges::count(findings, code, &Finding::code) == 1);
  return *found;
}

/// A number among the facts of a finding.
inline double number(const Finding& finding, std::string_view argument) {
  const Argument* found = finding.argument(argument);
  INFO(argument);
  REQUIRE(found != nullptr);
  return std::get<double>(found->value);
}

}  // namespace ribbay::testing

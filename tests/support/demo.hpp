#pragma once

#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

namespace ribbay::testing {

/// The Marsh project, laid out, with values changed on the way: "module.galley.depth=520 mm".
inline Layout demo(const std::vector<std::string>& changed = {}) {
  const std::string path = RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml";
  const auto inputs = read_inputs(path, changed);
  REQUIRE(inputs.value);
  auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  REQUIRE_FALSE(has_errors(layout.findings));
  return std::move(*layout.value);
}

}  // namespace ribbay::testing

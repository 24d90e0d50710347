#pragma once

#include <catch2/catch.hpp>

#include <array>
#include <cstdio>
#include <string>

namespace ribbay::testing {

/// What a command prints.
inline std::string said_by(const std::string& command) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> part{};
  while (const std::size_t got = std::fread(part.data(), 1, part.size(), pipe))
    text.append(part.data(), got);
  REQUIRE(pclose(pipe) == 0);
  return text;
}

}  // namespace ribbay::testing

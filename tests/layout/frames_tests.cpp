#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <filesystem>

using namespace ribbay;

TEST_CASE("the axes of every part stand square to each other", "[layout][projects]") {
  // What goes in askew, as screws into a curved lining, must not be skewed.
  int askew = 0;
  for (const char* folder : {"marsh", "examples"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(RIBBAY_SOURCE_DIR "/params/" + std::string(folder))) {
      if (entry.path().extension() != ".toml" || entry.path().stem() == "equipment") continue;
      CAPTURE(entry.path());
      const auto inputs = read_inputs(entry.path().string());
      REQUIRE(inputs.value);
      const auto layout = lay_out(*inputs.value);
      REQUIRE(layout.value);
      for (const Part& part : layout.value->parts) {
        const auto& [origin, x, y, z] = part.frame;
        CAPTURE(part.id);
        // One assertion for all: there are thousands.
        const double off = std::max({std::abs(dot(x, y)), std::abs(dot(y, z)), std::abs(dot(z, x)),
                                     std::abs(length(x) - 1), std::abs(length(y) - 1),
                                     std::abs(length(z) - 1), length(cross(x, y) - z)});
        if (off > 1e-9) FAIL_CHECK("off by " << off);
        askew += std::max({std::abs(z.x), std::abs(z.y), std::abs(z.z)}) < 0.999 ? 1 : 0;
      }
    }
  }
  CHECK(askew > 10);  // or the test would say nothing
}

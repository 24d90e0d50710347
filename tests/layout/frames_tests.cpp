#include "projects.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ribbay;

TEST_CASE("the axes of every part stand square to each other", "[layout][projects]") {
  // What goes in askew, as screws into a curved lining, must not be skewed.
  int askew = 0;
  for (const std::string& file : testing::project_files()) {
    CAPTURE(file);
    const Layout layout = testing::laid_out_file(file);
    for (const Part& part : layout.parts) {
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
  CHECK(askew > 10);  // or the test would say nothing
}

#include "committed_scan.hpp"
#include "scan/read_scan.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iostream>

using namespace ribbay;
using namespace ribbay::tests;

// Makes the file again and says which points were picked on it: scan_tests "[.make]"
TEST_CASE("make the committed scan", "[.make]") {
  std::ofstream(kCommittedScan, std::ios::binary) << glb_scan(committed_scan(), 0.001);
  const double sill = long_mid().stations.front().left.front().half_width - 2.0;
  for (const Vec3 at : {Vec3{0, sill, 0}, Vec3{0, -sill, 0}, Vec3{3400, 0, 0}}) {
    std::cout << point_text(committed_scanner().point(at), 0.001) << "\n";
  }
}

TEST_CASE("the committed scan is the one that is made here", "[scan][sample]") {
  const std::filesystem::path path = kCommittedScan;
  CHECK(std::filesystem::file_size(path) < 600'000);
  const auto bytes = read_file(path.string());
  REQUIRE(bytes);
  const auto read = read_scan(*bytes, path.string(), 1000.0);
  REQUIRE(read);
  const ScanMesh made = committed_scan();
  CHECK((read->triangles == made.triangles));
  REQUIRE(read->points.size() == made.points.size());
  double worst = 0.0;
  for (std::size_t i = 0; i < made.points.size(); ++i) {
    worst = std::max(worst, length(read->points[i] - made.points[i]));
  }
  CHECK(worst < 0.01);  // floats of a few metres
}

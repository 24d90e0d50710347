#include "assembly/torque.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

// Tables after VDI 2230:2001, strength classes of ISO 898-1. Source of the rows:
// https://www.mastik.pt/wa_files/files/basic-html/page685.html
TEST_CASE("preload and torque are those of printed tables", "[assembly][torque]") {
  struct Row {
    ThreadSizes sizes;
    double yield, friction, kilonewton;
  };
  for (const Row& row : {Row{{8, 1, 11.63, 9}, 640, 0.12, 20.2}, Row{{8, 1, 11.63, 9}, 940, 0.12, 29.7},
                         Row{{8, 1, 11.63, 9}, 1100, 0.12, 34.7},
                         Row{{10, 1.25, 14.6, 11}, 640, 0.10, 32.4},
                         Row{{10, 1.25, 14.6, 11}, 640, 0.12, 31.6},
                         Row{{10, 1.25, 14.6, 11}, 640, 0.14, 30.8},
                         Row{{12, 1.25, 16.6, 13.5}, 640, 0.10, 49.1},
                         Row{{12, 1.25, 16.6, 13.5}, 640, 0.14, 46.8}}) {
    CAPTURE(row.sizes.diameter, row.sizes.pitch, row.yield, row.friction);
    CHECK(tightening(row.sizes, row.yield, row.friction).preload_n / 1000 ==
          Approx(row.kilonewton).margin(0.11));
  }
  // The torque depends on the head too; the same page for M8 x 1.
  CHECK(tightening({8, 1, 11.63, 9}, 640).torque_n_mm / 1000 == Approx(26.1).margin(0.15));
  CHECK(tightening({8, 1, 11.63, 9}, 940).torque_n_mm / 1000 == Approx(38.3).margin(0.2));
}

TEST_CASE("a nut that may be pulled with less asks for as much less torque", "[assembly][torque]") {
  Bolt bolt;
  bolt.kind = BoltKind::machine;
  bolt.diameter = 8;
  bolt.head_diameter = 13;
  bolt.clearance_hole = 9;
  bolt.strength_class = "8.8";
  Nut strong;
  strong.pull_out_n = 1e9;
  const auto full = tightening(bolt, strong);
  REQUIRE(full);
  CHECK(full->torque_n_mm == Approx(tightening({8, 1.25, 13, 9}, 640).torque_n_mm));
  CHECK_FALSE(tightening(bolt, Nut{}));  // nobody knows what its slot bears
  Nut weak;
  weak.pull_out_n = full->preload_n / 4;
  CHECK(tightening(bolt, weak)->torque_n_mm == Approx(full->torque_n_mm / 4));
  bolt.strength_class = "";
  CHECK_FALSE(tightening(bolt, weak));
}

#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("the saw and what lies on the rack are read, with defaults", "[layout][saw]") {
  const auto plain = lay_out_text("");
  REQUIRE(plain.value);
  CHECK(plain.value->sawing.bar_kerf == 3.0);
  CHECK_FALSE(plain.value->sawing.three_stages);
  const auto told = lay_out_text(
      "[saw]\nbar_kerf = \"1/8 in\"\nthree_stages = true\n"
      "[offcut.board]\nof = \"birch_12\"\nlength = 800\nwidth = \"2 ft\"\ncount = 3\n"
      "[offcut.bar]\nof = \"slotted_40\"\nlength = \"1.2 m\"\n");
  INFO(words(told.findings));
  REQUIRE(told.value);
  CHECK(told.value->sawing.bar_kerf == Approx(3.175));
  CHECK(told.value->sawing.three_stages);
  REQUIRE(told.value->offcuts.size() == 2);
  CHECK(told.value->offcuts[0].width == Approx(609.6));
  CHECK(told.value->offcuts[0].count == 3);
  CHECK(told.value->offcuts[1].length == Approx(1200.0));
}

TEST_CASE("offcuts of nothing, or without the sizes they need, are told", "[layout][saw]") {
  const auto [text, code] = GENERATE(table<std::string, std::string>(
      {{"[offcut.a]\nof = \"birch_21x\"\nlength = 100\n", "offcut.no_such_stock"},
       {"[offcut.a]\nof = \"birch_12\"\nlength = 100\n", "offcut.width"},
       {"[offcut.a]\nof = \"slotted_40\"\nlength = 100\nwidth = 40\n", "offcut.width"},
       {"[offcut.a]\nof = \"slotted_40\"\nlength = -100\n", "input.not_above"},
       {"[[offcut]]\nof = \"slotted_40\"\nlength = 100\n", "input.wrong_type"},
       {"[saw]\nbar_kerf = -1\n", "input.too_small"},
       {"[saw]\nblade = 3\n", "input.unknown_key"}}));
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(has_errors(built.findings));
  CHECK(has_code(built.findings, code));
  CHECK(built.findings.front().place);
}

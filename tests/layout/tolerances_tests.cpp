#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("tolerances have defaults, each can be said, and none is negative", "[layout]") {
  const auto plain = lay_out_text("");
  REQUIRE(plain.value);
  CHECK(plain.value->tolerances.saw == 0.5);
  CHECK(plain.value->tolerances.sheet == 0.3);
  CHECK(plain.value->tolerances.fitting == 1.0);

  const auto told = lay_out_text("[tolerances]\nsaw = \"1/64 in\"\nplay = \"0 mm\"\n");
  REQUIRE(told.value);
  CHECK(told.value->tolerances.saw == Approx(0.396875));
  CHECK(told.value->tolerances.play == 0.0);

  const auto wrong = lay_out_text("[tolerances]\nassembly = \"-1 mm\"\nsaws = \"1 mm\"\n");
  INFO(words(wrong.findings));
  CHECK(std::ranges::count(wrong.findings, Severity::error, &Finding::severity) == 2);
}

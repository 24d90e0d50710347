#include "judgement/stack.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

TEST_CASE("stacks come out as in published worked examples", "[judgement]") {
  struct Row {
    std::vector<double> tolerances;
    double worst;
    double rss;
    const char* source;
  };
  const auto row = GENERATE(values<Row>({
      // Gap 4.020 - (2.000 + 1.500 + 0.500) = 0.020 with its housing; root recomputed: 0.007937.
      {{0.005, 0.005, 0.003, 0.002}, 0.015, 0.00794,
       "ficientdesign.com/tolerance-stack-up-analysis"},
      {{0.005, 0.003, 0.002}, 0.010, 0.00616, "the same, without the housing"},
      {{0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, 1.0, 0.316, "ten parts of 0.1"},
      {{0.20, 0.10, 0.15}, 0.45, 0.269, "17.00 with 0.20, 0.10, 0.15"},
  }));
  CAPTURE(row.source);
  std::vector<Contributor> contributors;
  for (const double t : row.tolerances) contributors.push_back({"size", "part", t});

  const Stack stack = make_stack(contributors);

  CHECK(stack.worst == Approx(row.worst).margin(1e-9));
  CHECK(stack.rss == Approx(row.rss).margin(0.0005 * (row.rss > 0.1 ? 1.0 : 0.01)));
}

TEST_CASE("the largest contributor comes first, with its share of the square", "[judgement]") {
  const Stack stack = make_stack({{"saw", "a", 0.3}, {"survey", "wall", 0.4}, {"sheet", "b", 0.0}});

  REQUIRE(stack.contributors.size() == 2);
  CHECK(stack.contributors.front().what == "survey");
  CHECK(stack.rss == Approx(0.5));
  CHECK(stack.share(stack.contributors.front()) == Approx(0.64));
}

TEST_CASE("a stack of nothing is off by nothing", "[judgement]") {
  const Stack stack = make_stack({});
  CHECK(stack.worst == 0.0);
  CHECK(stack.share({"saw", "a", 0.0}) == 0.0);
}

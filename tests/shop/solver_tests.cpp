// The wall around the integer solver, from inside: no order that a builder can write makes it fail.
#include "../../modeler/shop/src/linear_program.hpp"

#include <catch2/catch.hpp>

#include <thread>

using ribbay::detail::LinearProgram;

namespace {

/// Least x with x >= 2.
bool solves_two() {
  LinearProgram program(1);
  program.at_least(0, 2.0);
  program.add_column(1.0, {{0, 1.0}}, true);
  const auto solution = program.solve(false);
  return solution && solution->values.at(0) == 2.0 && solution->prices.at(0) == 1.0;
}

}  // namespace

TEST_CASE("a failure of the solver is an empty answer, and the next program is solved",
          "[shop][solver]") {
  LinearProgram bystander(1);
  bystander.at_least(0, 2.0);
  bystander.add_column(1.0, {{0, 1.0}}, true);
  REQUIRE(bystander.solve(false));

  LinearProgram broken(1);
  broken.add_column(1.0, {{5, 1.0}});  // there is no row 5
  CHECK_FALSE(broken.solve(false));
  CHECK_FALSE(broken.solve_whole({1}, {10, 10, 0.0}));
  // The solver has dropped everything it knew in this thread.
  CHECK_FALSE(bystander.solve(true));
  CHECK(solves_two());
}

TEST_CASE("a failure in one thread leaves the others alone", "[shop][solver]") {
  std::vector<char> fine(4, 0);
  std::vector<std::thread> threads;
  for (std::size_t t = 0; t < fine.size(); ++t) {
    threads.emplace_back([&fine, t] {
      bool good = true;
      for (int round = 0; round < 50; ++round) {
        if (round % 5 == static_cast<int>(t)) {
          LinearProgram broken(1);
          broken.add_column(1.0, {{5, 1.0}});
          good = good && !broken.solve(false);
        }
        good = good && solves_two();
      }
      fine[t] = good ? 1 : 0;
    });
  }
  for (std::thread& thread : threads) thread.join();
  CHECK(fine == std::vector<char>(4, 1));
}

TEST_CASE("whole numbers are found within limits", "[shop][solver]") {
  // By hand: 3 x >= 7 needs x = 3 in whole numbers, 7/3 otherwise.
  LinearProgram program(1);
  program.at_least(0, 7.0);
  program.add_column(1.0, {{0, 3.0}});
  const auto solution = program.solve(false);
  REQUIRE(solution);
  CHECK(solution->values.at(0) == Approx(7.0 / 3.0));
  LinearProgram whole(1);
  whole.at_least(0, 7.0);
  whole.add_column(1.0, {{0, 3.0}});
  const auto found = whole.solve_whole({10}, {100, 1000, 3.0});
  REQUIRE(found);
  CHECK(found->at(0) == 3);
}

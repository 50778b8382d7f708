#include "solver/linear_program.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "small_programs.hpp"

using namespace leastwise;
using solver::LinearData;
using solver::LinearProgram;
using solver::LinearStatus;
using testing::urea_and_filler;

namespace {

using model::infinity;

}  // namespace

TEST_SUITE("linear program") {
  TEST_CASE("amounts, duals and cost come back in the caller's units") {
    LinearProgram program(urea_and_filler(150));
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(150 / 0.46));
    CHECK(program.cost() == doctest::Approx(50 + 0.45 * 150 / 0.46));
    CHECK(program.duals()[1] == doctest::Approx(0.45 / 0.46));
  }

  TEST_CASE("rows of very different size are solved as one") {
    auto data = urea_and_filler(150);
    for (const std::size_t e : {2u}) data.entries[e].value *= 1e-6;
    data.row_lower[1] *= 1e-6;
    LinearProgram program(data);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(150 / 0.46));
    CHECK(program.duals()[1] == doctest::Approx(0.45 / 0.46e-6));
  }

  TEST_CASE("numbers on which CLP would abort or lie are refused before it sees them") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](auto change) {
      auto data = urea_and_filler(150);
      change(data);
      CHECK_THROWS_AS(LinearProgram{data}, std::invalid_argument);
    };
    refused([&](LinearData& d) { d.cost[0] = nan; });
    refused([&](LinearData& d) { d.cost[0] = infinity; });
    refused([&](LinearData& d) { d.cost[0] = 1e25; });
    refused([&](LinearData& d) { d.entries[0].value = nan; });
    refused([&](LinearData& d) { d.entries[0].value = infinity; });
    refused([&](LinearData& d) { d.entries[0].column = 2; });
    refused([&](LinearData& d) { d.entries[0].column = -1; });
    refused([&](LinearData& d) { d.row_lower[0] = nan; });
    refused([&](LinearData& d) { d.upper[0] = nan; });
    refused([&](LinearData& d) { d.lower[0] = 2, d.upper[0] = 1; });
    refused([&](LinearData& d) { d.row_lower[1] = 2, d.row_upper[1] = 1; });
    refused([&](LinearData& d) { d.cost.pop_back(); });
  }

  TEST_CASE("an index out of range is refused") {
    LinearProgram program(urea_and_filler(150));
    CHECK_THROWS_AS(program.set_column_bounds(2, 0, 1), std::invalid_argument);
    CHECK_THROWS_AS(program.set_row_bounds(-1, 0, 1), std::invalid_argument);
    CHECK_THROWS_AS(program.set_cost(9, 1), std::invalid_argument);
  }

  TEST_CASE("an impossible program is said to be infeasible") {
    LinearProgram program(urea_and_filler(500));
    CHECK(program.solve({}) == LinearStatus::infeasible);
  }

  TEST_CASE("bounds may change between solves and the basis is kept") {
    LinearProgram program(urea_and_filler(150));
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    program.set_row_bounds(1, 200, infinity);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(200 / 0.46));
    const auto start = program.warm_start();
    program.set_column_bounds(0, 0, 100);
    CHECK(program.solve({}) == LinearStatus::infeasible);
    program.set_column_bounds(0, 0, infinity);
    program.set_warm_start(start);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(200 / 0.46));
  }

  TEST_CASE("no amount is minus zero or outside its bounds") {
    auto data = urea_and_filler(0);
    data.row_lower[1] = -infinity;
    LinearProgram program(data);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    for (const double x : program.values()) {
      CHECK(x >= 0);
      CHECK_FALSE(std::signbit(x));
    }
  }
}

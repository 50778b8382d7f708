#include "solver/lp_solver.hpp"
#include "support/random.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "small_programs.hpp"

using namespace leastwise;
using solver::LinearProgram;
using solver::LinearStatus;
using solver::LpSolver;
using testing::urea_and_filler;

namespace {

using model::infinity;

}  // namespace

TEST_SUITE("linear program") {
  TEST_CASE("amounts, duals and cost come back in the caller's units") {
    LpSolver program(urea_and_filler(150));
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(150 / 0.46));
    CHECK(program.cost() == doctest::Approx(50 + 0.45 * 150 / 0.46));
    CHECK(program.duals()[1] == doctest::Approx(0.45 / 0.46));
  }

  TEST_CASE("rows of very different size are solved as one") {
    auto data = urea_and_filler(150);
    for (const std::size_t e : {2u}) data.entries[e].value *= 1e-6;
    data.row_lower[1] *= 1e-6;
    LpSolver program(data);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[0] == doctest::Approx(150 / 0.46));
    CHECK(program.duals()[1] == doctest::Approx(0.45 / 0.46e-6));
  }

  TEST_CASE("numbers on which CLP would abort or lie are refused before it sees them") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](auto change) {
      auto data = urea_and_filler(150);
      change(data);
      CHECK_THROWS_AS(LpSolver{data}, std::invalid_argument);
    };
    refused([&](LinearProgram& d) { d.cost[0] = nan; });
    refused([&](LinearProgram& d) { d.cost[0] = infinity; });
    refused([&](LinearProgram& d) { d.cost[0] = 1e25; });
    refused([&](LinearProgram& d) { d.entries[0].value = nan; });
    refused([&](LinearProgram& d) { d.entries[0].value = infinity; });
    refused([&](LinearProgram& d) { d.entries[0].column = 2; });
    refused([&](LinearProgram& d) { d.entries[0].column = -1; });
    refused([&](LinearProgram& d) { d.row_lower[0] = nan; });
    refused([&](LinearProgram& d) { d.upper[0] = nan; });
    refused([&](LinearProgram& d) { d.lower[0] = 2, d.upper[0] = 1; });
    refused([&](LinearProgram& d) { d.row_lower[1] = 2, d.row_upper[1] = 1; });
    refused([&](LinearProgram& d) { d.cost.pop_back(); });
  }

  TEST_CASE("an index out of range is refused") {
    LpSolver program(urea_and_filler(150));
    CHECK_THROWS_AS(program.set_column_bounds(2, 0, 1), std::invalid_argument);
    CHECK_THROWS_AS(program.set_row_bounds(-1, 0, 1), std::invalid_argument);
  }

  TEST_CASE("an impossible program is said to be infeasible") {
    LpSolver program(urea_and_filler(500));
    CHECK(program.solve({}) == LinearStatus::infeasible);
  }

  TEST_CASE("bounds may change between solves and the basis is kept") {
    LpSolver program(urea_and_filler(150));
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
    LpSolver program(data);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    for (const double x : program.values()) {
      CHECK(x >= 0);
      CHECK_FALSE(std::signbit(x));
    }
  }

  // With the factorisation of the last solve kept as well (bit 2 of CLP's start options), the last
  // of these solves was called optimal at 463.07.
  TEST_CASE("after changed bounds a program is what a fresh one is") {
    LinearProgram data{3,
                       6,
                       {0, 6, 8, 10},
                       {{0, 1},
                        {1, 1},
                        {2, 1},
                        {3, 1},
                        {4, 1},
                        {5, 1},
                        {4, 0.18},
                        {5, 0.34},
                        {2, 0.0104},
                        {3, 0.08}},
                       {1000, -infinity, -infinity},
                       {1000, 57.863909651080277, 16.429807670249232},
                       {0, 0, 0, 0, 0, 0},
                       {infinity, infinity, infinity, infinity, infinity, infinity},
                       {0.619, 0.58, 0.786, 0.498, 0.173, 0.171}};
    LpSolver kept(data);
    for (const auto& [column, upper] :
         {std::pair{2, 0.0}, std::pair{1, 200.0}, std::pair{2, 200.0}}) {
      data.upper[static_cast<std::size_t>(column)] = upper;
      kept.set_column_bounds(column, 0, upper);
      REQUIRE(kept.solve({}) == LinearStatus::optimal);
      LpSolver fresh(data);
      REQUIRE(fresh.solve({}) == LinearStatus::optimal);
      CHECK(kept.cost() == doctest::Approx(fresh.cost()).epsilon(1e-10));
    }
  }

  TEST_CASE("long sequences of changed bounds and bases end where fresh programs do") {
    support::Random random(4711);
    int optimal = 0;
    int infeasible = 0;
    for (int question = 0; question < 150; ++question) {
      CAPTURE(question);
      LinearProgram data;
      data.columns = 3 + static_cast<int>(random.index(8));
      for (int j = 0; j < data.columns; ++j) {
        data.lower.push_back(0);
        data.upper.push_back(infinity);
        data.cost.push_back(random.between(0.1, 1));
        data.entries.push_back({j, 1});
      }
      data.row_start.push_back(data.columns);
      data.row_lower.push_back(1000);
      data.row_upper.push_back(1000);
      data.rows = 1;
      for (auto more = 1 + random.index(5); more > 0; --more, ++data.rows) {
        for (int j = 0; j < data.columns; ++j)
          if (random.chance(0.4)) data.entries.push_back({j, random.between(0.01, 0.6)});
        data.row_start.push_back(static_cast<int>(data.entries.size()));
        const double limit = random.between(5, 250);
        const bool minimum = random.chance(0.5);
        data.row_lower.push_back(minimum ? limit : -infinity);
        data.row_upper.push_back(minimum ? infinity : limit);
      }
      LpSolver kept(data);
      std::vector<solver::WarmStart> bases;
      for (int change = 0; change < 40; ++change) {
        const auto j = random.index(data.upper.size());
        data.upper[j] = random.chance(0.3) ? 0 : random.chance(0.5) ? 200 : infinity;
        kept.set_column_bounds(static_cast<int>(j), data.lower[j], data.upper[j]);
        if (!bases.empty() && random.chance(0.3))
          kept.set_warm_start(bases[random.index(bases.size())]);
        const auto status = kept.solve({});
        LpSolver fresh(data);
        REQUIRE(status == fresh.solve({}));
        if (status != LinearStatus::optimal) {
          ++infeasible;
          continue;
        }
        ++optimal;
        bases.push_back(kept.warm_start());
        CHECK(kept.cost() == doctest::Approx(fresh.cost()).epsilon(1e-8));
      }
    }
    CHECK(optimal > 1000);
    CHECK(infeasible > 300);
  }
}

#include "solver/exact_solve.hpp"

#include <doctest/doctest.h>

#include <tuple>

#include "small_programs.hpp"
#include "solver/certificate.hpp"

using namespace leastwise;
using solver::BasisStatus;
using solver::LinearProgram;
using solver::LinearStatus;
using testing::urea_and_filler;

namespace {

using model::infinity;
const base::StopCheck endless = [] {};

solver::Basis slack(const LinearProgram& data) {
  return {std::vector<BasisStatus>(data.cost.size(), BasisStatus::at_lower),
          std::vector<BasisStatus>(static_cast<std::size_t>(data.rows), BasisStatus::basic)};
}

}  // namespace

TEST_SUITE("solving without rounding") {
  TEST_CASE("the optimum, its duals and its basis, by hand") {
    // 230 kg of N are in 500 kg of urea; y = (0.05, 0.45/0.46).
    const auto data = urea_and_filler(230);
    const auto end = solver::solve_without_rounding(data, slack(data), endless);
    REQUIRE(end.status == LinearStatus::optimal);
    CHECK(end.x[0] == doctest::Approx(500));
    CHECK(end.x[1] == doctest::Approx(500));
    CHECK(end.y[0] == doctest::Approx(0.05));
    CHECK(end.y[1] == doctest::Approx(0.45 / 0.46));
    CHECK(end.basis.columns == std::vector<BasisStatus>{BasisStatus::basic, BasisStatus::basic});
    CHECK(end.basis.rows[1] == BasisStatus::at_lower);
    CHECK(solver::dual_proof(data, end.y).bound == doctest::Approx(275));
  }

  TEST_CASE("bounds other than zero, on either side, and a column that is fixed") {
    auto data = urea_and_filler(46);
    data.cost = {0.05, 0.5};
    data.lower = {20, 100};
    data.upper = {300, infinity};
    auto end = solver::solve_without_rounding(data, slack(data), endless);
    REQUIRE(end.status == LinearStatus::optimal);
    CHECK(end.x == std::vector<double>{300, 700});
    CHECK(end.basis.columns[0] == BasisStatus::at_upper);
    data.upper[1] = 850;
    data.lower[0] = data.upper[0] = 150;
    end = solver::solve_without_rounding(data, slack(data), endless);
    REQUIRE(end.status == LinearStatus::optimal);
    CHECK(end.x == std::vector<double>{150, 850});
    CHECK(end.basis.columns[0] == BasisStatus::fixed);
  }

  TEST_CASE("a program short by less than any tolerance is impossible, and one within is not") {
    // 0.46 is a little more than 46/100 as a double; its thousandfold is what can be reached.
    const auto possible = urea_and_filler(460);
    CHECK(solver::solve_without_rounding(possible, slack(possible), endless).status ==
          LinearStatus::optimal);
    const auto impossible = urea_and_filler(460 * (1 + 1e-12));
    const auto end = solver::solve_without_rounding(impossible, slack(impossible), endless);
    CHECK(end.status == LinearStatus::infeasible);
    REQUIRE(end.y.size() == 2);
    CHECK(end.y[0] / end.y[1] == doctest::Approx(-0.46));
    CHECK_FALSE(solver::contradicts(impossible, end.y));  // too close for rounded numbers
  }

  TEST_CASE("multipliers of a contradiction verify in rounded numbers, whatever the start") {
    const auto data = urea_and_filler(461);
    for (const auto standing : {BasisStatus::basic, BasisStatus::at_lower, BasisStatus::at_upper}) {
      auto start = slack(data);
      start.rows[0] = start.columns[0] = standing;
      const auto end = solver::solve_without_rounding(data, start, endless);
      REQUIRE(end.status == LinearStatus::infeasible);
      CHECK(solver::contradicts(data, end.y));
    }
  }

  TEST_CASE("a cost without lower bound is no answer") {
    LinearProgram data = urea_and_filler(230);
    data.row_lower[0] = 0;
    data.row_upper[0] = infinity;
    data.cost[1] = -1;
    CHECK(solver::solve_without_rounding(data, slack(data), endless).status ==
          LinearStatus::failed);
  }

  TEST_CASE("whoever waits may lose stop_check") {
    const auto data = urea_and_filler(230);
    const base::StopCheck none = [] { throw base::Interrupted{}; };
    CHECK_THROWS_AS(std::ignore = solver::solve_without_rounding(data, slack(data), none),
                    base::Interrupted);
  }
}

#include "solver/dense_simplex.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "small_programs.hpp"
#include "solver/certificate.hpp"
#include "solver/kernel.hpp"
#include "solver/lp_solver.hpp"

using namespace leastwise;
using solver::BasisStatus;
using solver::DenseOutcome;
using solver::DenseSimplex;
using solver::Kernel;
using solver::LinearStatus;
using solver::LpSolver;
using testing::urea_and_filler;

namespace {

using model::infinity;

struct Read {
  std::vector<double> x{};
  std::vector<double> y{};
};

Read read(const DenseSimplex& simplex) {
  Read out;
  simplex.read(out.x, out.y);
  return out;
}

}  // namespace

TEST_SUITE("dense simplex") {
  TEST_CASE("amounts and duals come back in the caller's units, whatever the size of the rows") {
    for (const double size : {1.0, 1e-6, 1e4}) {
      auto data = urea_and_filler(150);
      data.entries[2].value *= size;
      data.row_lower[1] *= size;
      DenseSimplex simplex(data);
      REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
      const auto [x, y] = read(simplex);
      CHECK(x[0] == doctest::Approx(150 / 0.46).epsilon(1e-14));
      CHECK(x[0] + x[1] == doctest::Approx(1000).epsilon(1e-14));
      CHECK(y[0] == doctest::Approx(0.05).epsilon(1e-13));
      CHECK(y[1] == doctest::Approx(0.45 / 0.46 / size).epsilon(1e-13));
    }
  }

  TEST_CASE("other coefficients in a row leave the basis and move the values") {
    DenseSimplex simplex(urea_and_filler(150));
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    const std::vector<model::Entry> half{{0, 0.23}};
    simplex.set_row(1, half);
    simplex.keep_basis();
    simplex.take_values();
    const auto [x, y] = read(simplex);
    CHECK(x[0] == doctest::Approx(150 / 0.23).epsilon(1e-14));
    CHECK(y[1] == doctest::Approx(0.45 / 0.23).epsilon(1e-14));
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    CHECK(read(simplex).x[0] == x[0]);
  }

  TEST_CASE("a moving bound ends the basis where the last filler is gone, and nothing is beyond") {
    DenseSimplex simplex(urea_and_filler(150));
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    const std::vector<solver::Motion> need{{.variable = 3, .lower_rate = 1}};
    const auto at = simplex.next_breakpoint(need, 1);
    CHECK(at.kind == solver::Breakpoint::Kind::bound);
    CHECK(at.change == doctest::Approx(460 - 150).epsilon(1e-13));
    CHECK(at.curve == 0);
    simplex.set_bounds(3, 460, infinity);
    simplex.keep_basis();
    CHECK(simplex.turn(at) == DenseSimplex::Turn::impossible);
  }

  TEST_CASE("a row without a bound on the side it moves to does not end a step") {
    solver::LinearProgram data;
    data.rows = 2;
    data.columns = 1;
    data.row_start = {0, 1, 2};
    data.entries = {{0, 1}, {0, 1.9}};
    data.row_lower = {-infinity, 0};
    data.row_upper = {5, infinity};
    data.lower = {0};
    data.upper = {infinity};
    data.cost = {1};
    DenseSimplex simplex(data);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    const auto state = simplex.state();
    const std::vector<double> paid{-1};
    simplex.set_costs(paid);
    simplex.stand_at(state);
    simplex.improve();
    CHECK(simplex.cost() == doctest::Approx(-5));
  }

  TEST_CASE("a bounded column flips to its other bound where it gets there first") {
    // 400 kg of the first are allowed; it is cheap per kg of N, so it goes in whole.
    auto data = urea_and_filler(300);
    data.columns = 3;
    data.lower.push_back(0);
    data.upper.push_back(400);
    data.cost.push_back(0.2);
    data.row_start = {0, 3, 5};
    data.entries = {{0, 1}, {1, 1}, {2, 1}, {0, 0.46}, {2, 0.34}};
    DenseSimplex simplex(data);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    const auto x = read(simplex).x;
    CHECK(x[2] == 400);
    CHECK(x[0] == doctest::Approx((300 - 0.34 * 400) / 0.46));
    CHECK(simplex.warm_start()[2] == BasisStatus::at_upper);
  }

  TEST_CASE("what cannot be is contradicted by multipliers of the caller's rows") {
    const auto data = urea_and_filler(500);
    DenseSimplex simplex(data);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::infeasible);
    CHECK(solver::contradicts(data, simplex.multipliers()));
  }

  TEST_CASE("a cost that can sink for ever is for another to say") {
    auto data = urea_and_filler(150);
    data.row_upper[0] = infinity;
    data.cost[1] = -0.05;
    DenseSimplex simplex(data);
    CHECK(simplex.solve({}, infinity) == DenseOutcome::gave_up);
  }

  TEST_CASE("a negative cost within a total of 1000 is solved") {
    auto data = urea_and_filler(150);
    data.cost[1] = -0.05;
    DenseSimplex simplex(data);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    CHECK(read(simplex).x[1] == doctest::Approx(1000 - 150 / 0.46));
  }

  TEST_CASE("a row that loses its bounds holds nothing, and holds again when it has them back") {
    DenseSimplex simplex(urea_and_filler(150));
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    simplex.set_bounds(3, -infinity, infinity);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    CHECK(read(simplex).x[0] == 0);
    CHECK(read(simplex).y[1] == 0);
    simplex.set_bounds(3, 230, infinity);
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    CHECK(read(simplex).x[0] == doctest::Approx(500));
  }

  TEST_CASE("a basis that is none is let go") {
    DenseSimplex simplex(urea_and_filler(150));
    // Filler alone cannot carry the row of N.
    simplex.set_warm_start(
        {BasisStatus::at_lower, BasisStatus::basic, BasisStatus::basic, BasisStatus::basic});
    REQUIRE(simplex.solve({}, infinity) == DenseOutcome::optimal);
    CHECK(read(simplex).x[0] == doctest::Approx(150 / 0.46));
  }
}

TEST_SUITE("kernels") {
  TEST_CASE("a basis goes from CLP to the kernel and back") {
    LpSolver program(urea_and_filler(150), Kernel::always);
    REQUIRE(program.solve_by_clp({}) == LinearStatus::optimal);
    CHECK_FALSE(program.solved_by_kernel());
    const auto basis = program.warm_start();
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.solved_by_kernel());
    CHECK(program.warm_start() == basis);
    REQUIRE(program.solve_by_clp({}) == LinearStatus::optimal);
    CHECK(program.warm_start() == basis);
    CHECK(program.values()[0] == doctest::Approx(150 / 0.46));
  }

  TEST_CASE("what the kernel gives up on, CLP answers") {
    auto data = urea_and_filler(150);
    data.row_upper[0] = infinity;
    data.cost[1] = -0.05;
    LpSolver program(data, Kernel::always);
    CHECK(program.solve({}) == LinearStatus::failed);  // no blend is the cheapest
    CHECK_FALSE(program.solved_by_kernel());
    program.set_column_bounds(1, 0, 700);
    REQUIRE(program.solve({}) == LinearStatus::optimal);
    CHECK(program.values()[1] == doctest::Approx(700));
  }

  TEST_CASE("a forced kernel lasts as long as what forces it") {
    const auto before = solver::usual_kernel();
    {
      const solver::ForcedKernel forced(Kernel::never);
      CHECK(solver::usual_kernel() == Kernel::never);
      LpSolver program(urea_and_filler(150));
      REQUIRE(program.solve({}) == LinearStatus::optimal);
      CHECK_FALSE(program.solved_by_kernel());
    }
    CHECK(solver::usual_kernel() == before);
  }
}

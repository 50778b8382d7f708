// What CLP 1.17.6 was measured to do at its edges. The adapter is built on these facts; a CLP that
// behaves otherwise announces itself here.
#include <doctest/doctest.h>

#include <ClpSimplex.hpp>
#include <CoinError.hpp>
#include <cmath>
#include <limits>
#include <memory>
#include <type_traits>
#include <vector>

namespace {

/// Column-major data of a small program.
struct Program {
  int columns;
  int rows;
  std::vector<CoinBigIndex> start;
  std::vector<int> row;
  std::vector<double> value;
  std::vector<double> lower;
  std::vector<double> upper;
  std::vector<double> cost;
  std::vector<double> row_lower;
  std::vector<double> row_upper;
};

void load(ClpSimplex& model, const Program& p) {
  model.setLogLevel(0);
  model.loadProblem(p.columns, p.rows, p.start.data(), p.row.data(), p.value.data(), p.lower.data(),
                    p.upper.data(), p.cost.data(), p.row_lower.data(), p.row_upper.data());
}

const double big = COIN_DBL_MAX;

/// Two materials of one tonne: x + y = 1, 0.46 x >= need.
Program two_materials(double need) {
  return {2,      2,          {0, 2, 3}, {0, 1, 0}, {1, 0.46, 1},
          {0, 0}, {big, big}, {500, 50}, {1, need}, {1, big}};
}

}  // namespace

TEST_SUITE("CLP traps") {
  TEST_CASE("a feasible program is status 0 and an impossible one status 1") {
    ClpSimplex feasible;
    load(feasible, two_materials(0.15));
    feasible.dual();
    CHECK(feasible.status() == 0);
    CHECK(feasible.secondaryStatus() == 0);
    ClpSimplex impossible;
    load(impossible, two_materials(0.6));
    impossible.dual();
    CHECK(impossible.status() == 1);
  }

  TEST_CASE("an unbounded program is status 2") {
    auto p = two_materials(0);
    p.cost = {-1, 0};
    p.row_lower = {-big, -big};
    p.row_upper = {big, big};
    ClpSimplex model;
    load(model, p);
    model.dual();
    CHECK(model.status() == 2);
  }

  TEST_CASE("a lower bound above its upper bound is status 1 with secondary status 6") {
    auto p = two_materials(0.15);
    p.lower = {0.6, 0};
    p.upper = {0.5, big};
    ClpSimplex model;
    load(model, p);
    model.dual();
    CHECK(model.status() == 1);
    CHECK(model.secondaryStatus() == 6);
  }

  TEST_CASE("bounds crossed by a billionth are swallowed") {
    auto p = two_materials(0.15);
    p.lower = {0.5 + 1e-9, 0};
    p.upper = {0.5, big};
    ClpSimplex model;
    load(model, p);
    model.dual();
    CHECK(model.status() == 0);
  }

  TEST_CASE("a coefficient that is not a number is treated as absent") {
    auto p = two_materials(0);
    p.value[1] = std::numeric_limits<double>::quiet_NaN();
    ClpSimplex model;
    load(model, p);
    model.dual();
    CHECK(model.status() == 0);
  }

  TEST_CASE("a row bound that is not a number is treated as no bound") {
    ClpSimplex model;
    load(model, two_materials(std::numeric_limits<double>::quiet_NaN()));
    model.dual();
    CHECK(model.status() == 0);
    CHECK(model.primalColumnSolution()[0] == doctest::Approx(0));
  }

  TEST_CASE("an infinite coefficient is status 4 with secondary status 8") {
    auto p = two_materials(0.15);
    p.value[1] = std::numeric_limits<double>::infinity();
    ClpSimplex model;
    load(model, p);
    model.dual();
    CHECK(model.status() == 4);
    CHECK(model.secondaryStatus() == 8);
  }

  TEST_CASE("an impossible program still returns numbers that look like a blend") {
    ClpSimplex model;
    load(model, two_materials(0.6));
    model.dual();
    const double* x = model.primalColumnSolution();
    CHECK(x[0] + x[1] > 1.0 + 1e-6);
  }

  TEST_CASE("the row dual is the cost of one more unit of the right-hand side") {
    ClpSimplex model;
    load(model, two_materials(0.15));
    model.dual();
    // x = need / 0.46, the rest filler: cost = 50 + 450 need / 0.46.
    CHECK(model.dualRowSolution()[1] == doctest::Approx(450 / 0.46));
    CHECK(model.objectiveValue() == doctest::Approx(50 + 450 * 0.15 / 0.46));
  }

  TEST_CASE("at a degenerate point dual and primal simplex show different valid prices") {
    // Total 1, N >= 0.23 and material 1 >= 0.5 meet at one point.
    Program p{2,      3,          {0, 3, 4}, {0, 1, 2, 0},   {1, 0.46, 1, 1},
              {0, 0}, {big, big}, {300, 50}, {1, 0.23, 0.5}, {1, big, big}};
    ClpSimplex by_dual;
    load(by_dual, p);
    by_dual.dual();
    ClpSimplex by_primal;
    load(by_primal, p);
    by_primal.primal();
    CHECK(by_dual.objectiveValue() == doctest::Approx(175));
    CHECK(by_primal.objectiveValue() == doctest::Approx(175));
    CHECK(by_dual.dualRowSolution()[1] == doctest::Approx(250 / 0.46));
    CHECK(by_primal.dualRowSolution()[1] == doctest::Approx(0));
    CHECK(by_primal.dualRowSolution()[2] == doctest::Approx(250));
  }

  TEST_CASE("with costs of mixed signs an infeasibility ray may prove nothing; without, it does") {
    auto p = two_materials(0.6);
    p.cost = {0, 0};
    ClpSimplex model;
    load(model, p);
    model.dual();
    REQUIRE(model.status() == 1);
    const std::unique_ptr<double[]> ray(model.infeasibilityRay());
    REQUIRE(ray);
    // -y is the certificate: it leans on N's minimum and on the total's maximum.
    CHECK(-ray[1] > 0);
    CHECK(-ray[0] < 0);
    CHECK(-ray[0] + 0.46 * -ray[1] <= doctest::Approx(0));
  }

  TEST_CASE("CLP's own exception type is no standard exception") {
    CHECK_FALSE(std::is_base_of_v<std::exception, CoinError>);
  }

  TEST_CASE("a copied model stays silent and an assigned one does not") {
    ClpSimplex quiet;
    quiet.setLogLevel(0);
    const ClpSimplex copied(quiet);
    CHECK(copied.logLevel() == 0);
    ClpSimplex assigned;
    assigned = quiet;
    CHECK(assigned.logLevel() == 1);
  }
}

#include "solver/certificate.hpp"

#include <doctest/doctest.h>

#include "small_programs.hpp"

using namespace leastwise;
using solver::LinearProgram;
using testing::urea_and_filler;

namespace {

using model::infinity;

}  // namespace

TEST_SUITE("certificate") {
  TEST_CASE("the optimum's own duals prove its cost") {
    // y = (0.05, 0.45/0.46): cost 50 + 0.45/0.46 * 230 = 275.
    const auto data = urea_and_filler(230);
    const std::vector<double> x{500, 500};
    const std::vector<double> y{0.05, 0.45 / 0.46};
    CHECK(solver::primal_violation(data, x) <= 1e-15);
    const auto proof = solver::dual_proof(data, y);
    CHECK(proof.violation <= 1e-15);
    CHECK(proof.bound == doctest::Approx(275));
  }

  TEST_CASE("a blend short of its nitrogen is caught") {
    const auto data = urea_and_filler(230);
    CHECK(solver::primal_violation(data, std::vector<double>{499, 501}) > 1e-3);
    CHECK(solver::primal_violation(data, std::vector<double>{500, 501}) > 1e-4);
    CHECK(solver::primal_violation(data, std::vector<double>{501, 499 + 1e-3}) > 1e-7);
    CHECK(solver::primal_violation(data, std::vector<double>{-1, 1001}) == infinity);
  }

  TEST_CASE("a trace that rounding left is cleared, one that a row asks for is kept") {
    auto data = urea_and_filler(1e-8);
    std::vector<double> x{2e-8, 1000};
    solver::round_small_to_zero(data, x);
    CHECK(x == std::vector<double>{2e-8, 1000});  // of which 0.92e-8 are N
    data.row_lower[1] = 0;
    solver::round_small_to_zero(data, x);
    CHECK(x == std::vector<double>{0, 1000});
    data.lower[0] = 1e-8;
    x[0] = 1e-8;
    solver::round_small_to_zero(data, x);
    CHECK(x[0] == 1e-8);
  }

  TEST_CASE("traces that only hold each other are cleared together") {
    auto data = urea_and_filler(0);
    data.columns = 3;  // the second row wants more urea than of a third good
    data.row_start = {0, 3, 5};
    data.entries = {{0, 1}, {1, 1}, {2, 1}, {0, 1}, {2, -1}};
    data.lower.push_back(0);
    data.upper.push_back(infinity);
    data.cost.push_back(1);
    std::vector<double> x{1e-11, 1000, 1e-12};
    solver::round_small_to_zero(data, x);
    CHECK(x == std::vector<double>{0, 1000, 0});
    std::vector<double> nothing;
    solver::round_small_to_zero(LinearProgram{}, nothing);
    CHECK(nothing.empty());
  }

  TEST_CASE("the gap is what the cost lies above its bound, of what changes hands") {
    const auto data = urea_and_filler(230);
    const auto proof = solver::dual_proof(data, std::vector<double>{0.05, 0.45 / 0.46});
    CHECK(solver::optimality_gap(data, std::vector<double>{500, 500}, proof) <= 1e-15);
    // 501 kg of urea cost 0.45 more than they must.
    CHECK(solver::optimality_gap(data, std::vector<double>{501, 499}, proof) ==
          doctest::Approx(0.45 / 275.45));
  }

  TEST_CASE("duals that price a material below its cost prove nothing") {
    const auto data = urea_and_filler(230);
    // A higher dual on N makes urea's reduced cost negative with no upper bound to stop it.
    CHECK(solver::dual_proof(data, std::vector<double>{0.05, 1.2}).violation > 0.05);
    // A negative dual on a row that has no maximum.
    CHECK(solver::dual_proof(data, std::vector<double>{0.05, -1}).violation == infinity);
  }

  TEST_CASE("a contradiction is a contradiction only when it adds up") {
    const auto data = urea_and_filler(500);  // 46 % is the most 1000 kg can hold
    CHECK(solver::contradicts(data, std::vector<double>{-0.46, 1}));
    CHECK_FALSE(solver::contradicts(data, std::vector<double>{-0.55, 1}));
    CHECK_FALSE(solver::contradicts(data, std::vector<double>{-0.4, 1}));  // urea unbounded
    CHECK_FALSE(solver::contradicts(urea_and_filler(459), std::vector<double>{-0.46, 1}));
    // All urea holds 460 kg: no room for more, and no contradiction yet.
    CHECK(solver::leaves_no_room(urea_and_filler(460), std::vector<double>{-0.46, 1}));
    CHECK_FALSE(solver::contradicts(urea_and_filler(460), std::vector<double>{-0.46, 1}));
    CHECK_FALSE(solver::leaves_no_room(urea_and_filler(459), std::vector<double>{-0.46, 1}));
  }

  TEST_CASE("an impossible program gets multipliers and a possible one none") {
    const auto impossible = urea_and_filler(500);
    const auto y = solver::prove_infeasible(impossible, {});
    REQUIRE_FALSE(y.empty());
    CHECK(solver::contradicts(impossible, y));
    CHECK(solver::prove_infeasible(urea_and_filler(459), {}).empty());
  }

  TEST_CASE("a program short by a millionth is still proved impossible") {
    CHECK_FALSE(solver::prove_infeasible(urea_and_filler(460 * (1 + 1e-6)), {}).empty());
  }

  TEST_CASE("a row that no column reaches is proved by itself") {
    auto data = urea_and_filler(100);
    data.upper[0] = 100;  // 46 kg of N at the most
    const auto y = solver::prove_infeasible(data, {});
    REQUIRE(y.size() == 2);
    CHECK(y[0] == 0);
    CHECK(y[1] == 1);
  }
}

#include "exact/tableau.hpp"

#include <doctest/doctest.h>

using leastwise::exact::Integer;
using leastwise::exact::Rational;
using leastwise::exact::Tableau;

namespace {

const leastwise::base::StopCheck endless = [] {};

Rational value(const Tableau& tableau, std::size_t k) {
  return Rational(tableau.values()[k], tableau.denominator());
}

}  // namespace

TEST_SUITE("tableau") {
  TEST_CASE("the cheapest of two foods that together reach two minima, by hand") {
    // min 3a + 2b; a + b >= 4, a + 3b >= 6: b alone is the cheapest way to reach both. 4 of it
    // reach 4 and 12 and cost 8, so the first rule has the price 2 and the second none.
    Tableau tableau({{1, 1}, {1, 3}}, {4, 6}, {3, 2});
    REQUIRE(tableau.solve(endless) == Tableau::Status::optimal);
    CHECK(value(tableau, 0) == 0);
    CHECK(value(tableau, 1) == 4);
    CHECK(Rational(tableau.multipliers()[0], tableau.denominator()) == 2);
    CHECK(tableau.multipliers()[1] == 0);
  }

  TEST_CASE("fractions stay exact") {
    // min a + b; 3a + b >= 1, a + 3b >= 1: a = b = 1/4, both duals 1/4.
    Tableau tableau({{3, 1}, {1, 3}}, {1, 1}, {1, 1});
    REQUIRE(tableau.solve(endless) == Tableau::Status::optimal);
    for (const std::size_t k : {0U, 1U}) {
      CHECK(value(tableau, k) == Rational(1, 4));
      CHECK(Rational(tableau.multipliers()[k], tableau.denominator()) == Rational(1, 4));
    }
  }

  TEST_CASE("a crash basis gives the same optimum, whatever it is") {
    for (const auto& rows : {std::vector<char>{1, 0}, {0, 1}, {1, 1}, {0, 0}})
      for (const auto& columns : {std::vector<char>{1, 0}, {0, 1}, {1, 1}}) {
        Tableau tableau({{3, 1}, {1, 3}}, {1, 1}, {1, 1});
        tableau.crash(rows, columns, endless);
        REQUIRE(tableau.solve(endless) == Tableau::Status::optimal);
        CHECK(value(tableau, 0) == Rational(1, 4));
      }
  }

  TEST_CASE("rules that contradict each other give multipliers that say so") {
    // a + b >= 5 and -a - b >= -4: one of each adds up to 0 >= 1.
    Tableau tableau({{1, 1}, {-1, -1}}, {5, -4}, {0, 0});
    REQUIRE(tableau.solve(endless) == Tableau::Status::infeasible);
    const auto y = tableau.multipliers();
    CHECK(y[0] > 0);
    CHECK(y[0] == y[1]);
  }

  TEST_CASE("a cost without bound comes with the direction in which it falls") {
    Tableau tableau({{1, -1}}, {0}, {-1, 0});
    REQUIRE(tableau.solve(endless) == Tableau::Status::unbounded);
    const auto ray = tableau.ray();
    CHECK(ray[0] > 0);
    CHECK(ray[0] >= ray[1]);
  }

  TEST_CASE("rules that all meet in one point do not make it go round in circles") {
    // Beale's example of cycling (published 1955, from memory), scaled to whole numbers; optimum
    // -1/20 with rules 1/4 a - 60 b - 1/25 c + 9 d <= 0 and so on.
    Tableau tableau({{-25, 6000, 4, -900}, {-50, 9000, 2, -300}, {0, 0, -1, 0}}, {0, 0, -1},
                    {-75, 15000, -2, 600});
    REQUIRE(tableau.solve(endless) == Tableau::Status::optimal);
    Rational cost = 0;
    const Rational price[] = {Rational(-3, 4), 150, Rational(-1, 50), 6};
    for (std::size_t k = 0; k < 4; ++k) cost += price[k] * value(tableau, k);
    CHECK(cost == Rational(-1, 20));
  }
}

#include "solver/pseudo_costs.hpp"

#include <doctest/doctest.h>

using doctest::Approx;
using leastwise::solver::PseudoCosts;

TEST_SUITE("where to divide") {
  TEST_CASE("before anything is known, what is furthest from whole promises most") {
    const PseudoCosts gains(2);
    CHECK(gains.score(0, 0.5) == Approx(0.25));
    CHECK(gains.score(0, 0.5) > gains.score(1, 0.4));
    CHECK(gains.score(0, 0.3) == Approx(gains.score(1, 0.7)));
  }

  TEST_CASE("a rise counts for each unit moved, on its own side") {
    PseudoCosts gains(2);
    gains.update(0, false, 0.5, 2);  // 4 per unit down
    gains.update(0, true, 0.25, 3);  // 12 per unit up
    CHECK(gains.score(0, 0.5) == Approx(4 * 0.5 * 12 * 0.5));
    gains.update(0, true, 0.5, 2);  // 4 per unit up: 8 on average
    CHECK(gains.score(0, 0.5) == Approx(4 * 0.5 * 8 * 0.5));
  }

  TEST_CASE("a side never tried counts like the average of all") {
    PseudoCosts gains(2);
    gains.update(0, false, 1, 6);
    gains.update(0, true, 1, 2);
    CHECK(gains.score(1, 0.5) == Approx(4 * 0.5 * 4 * 0.5));
  }

  TEST_CASE("a side that costs nothing does not hide the other one") {
    PseudoCosts gains(2);
    gains.update(0, false, 1, 0);
    gains.update(0, true, 1, 8);
    gains.update(1, false, 1, 0);
    gains.update(1, true, 1, 4);
    CHECK(gains.score(0, 0.5) > gains.score(1, 0.5));
    CHECK(gains.score(1, 0.5) > 0);
    gains.update(1, true, 0, 100);  // nothing was moved, nothing is learnt
    gains.update(1, true, 1, -1);   // rounding: a bound cannot fall
    CHECK(gains.score(0, 0.5) > gains.score(1, 0.5));
  }
}

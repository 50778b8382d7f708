#include "trial/mass.hpp"

#include <doctest/doctest.h>

#include <numeric>

using namespace leastwise::trial;

TEST_SUITE("mass") {
  TEST_CASE("a mass is rounded to the nearest digit of the balance, halves up") {
    CHECK(rounded_to(1049, 100) == 1000);
    CHECK(rounded_to(1050, 100) == 1100);
    CHECK(rounded_to(0.4, 1) == 0);
    CHECK(rounded_to(12345.678, 5) == 12345);
  }

  TEST_CASE("parts differ by at most one digit and add up") {
    const auto parts = parts_of(1100, 3, 100);
    CHECK(parts == std::vector<std::int64_t>{400, 400, 300});
    CHECK(parts_of(0, 2, 100) == std::vector<std::int64_t>{0, 0});
  }

  TEST_CASE("a mass is shared out in proportion and nothing is lost") {
    const auto shares = apportioned(100, {1, 1, 1});
    CHECK(shares == std::vector<std::int64_t>{34, 33, 33});
    const auto uneven = apportioned(1000001, {7, 0, 3});
    CHECK(uneven[1] == 0);
    CHECK(std::accumulate(uneven.begin(), uneven.end(), std::int64_t{0}) == 1000001);
    CHECK(uneven[0] == 700001);
  }
}

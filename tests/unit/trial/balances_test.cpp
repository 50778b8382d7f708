#include "trial/balances.hpp"

#include <doctest/doctest.h>

using namespace leastwise;
using namespace leastwise::trial;

namespace {

const std::vector<Balance> balances{{"platform", 60, 20}, {"fine", 0.5, 0.01}, {"bench", 6, 0.1}};

}  // namespace

TEST_SUITE("balances") {
  TEST_CASE("the finest balance that carries the mass in one weighing is chosen") {
    CHECK(balance_for(balances, 499e3).name == "fine");
    CHECK(balance_for(balances, 500e3).name == "fine");
    CHECK(balance_for(balances, 501e3).name == "bench");
    CHECK(balance_for(balances, 7e6).name == "platform");
  }

  TEST_CASE("a mass that no balance carries is weighed on the largest in several weighings") {
    const Balance& balance = balance_for(balances, 130e6);
    CHECK(balance.name == "platform");
    const auto parts = weighing_parts(balance, 130'000'000);
    CHECK(parts == std::vector<std::int64_t>{43'340'000, 43'340'000, 43'320'000});
  }

  TEST_CASE("of two equally fine balances the smaller is chosen") {
    const std::vector<Balance> two{{"large", 10, 0.1}, {"small", 2, 0.1}};
    CHECK(balance_for(two, 1e6).name == "small");
  }

  TEST_CASE("a capacity that is no multiple of the digit is never exceeded by a weighing") {
    const Balance odd{"odd", 1, 300};  // 1 kg in digits of 300 g: at most 900 g at once
    for (const auto part : weighing_parts(odd, 2'100'000)) CHECK(part <= 1'000'000);
  }
}

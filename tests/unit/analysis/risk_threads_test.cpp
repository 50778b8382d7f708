#include <doctest/doctest.h>
#include <leastwise/load.hpp>
#include <leastwise/risk.hpp>

#include <atomic>
#include <stdexcept>
#include <vector>

#include "base/in_parallel.hpp"

using namespace leastwise;

TEST_SUITE("work on several threads") {
  TEST_CASE("each task runs once, on any number of threads") {
    for (const unsigned threads : {0U, 1U, 2U, 7U}) {
      std::vector<std::atomic<int>> runs(20);
      base::in_parallel(runs.size(), threads, [&](std::size_t k) { ++runs[k]; });
      for (const auto& count : runs) CHECK(count == 1);
    }
    base::in_parallel(0, 4, [](std::size_t) { FAIL("there is no task"); });
  }

  TEST_CASE("what a task throws on another thread is thrown to the caller") {
    for (const unsigned threads : {1U, 2U, 4U}) {
      std::atomic<int> begun{0};
      const auto fails = [&](std::size_t k) {
        ++begun;
        if (k == 3) throw std::length_error("third");
      };
      CHECK_THROWS_AS(base::in_parallel(1000, threads, fails), std::length_error);
      if (threads == 1) CHECK(begun == 4);  // others may be done before the throw is seen
    }
  }

  TEST_CASE("a progress callback that throws ends the call, not the program") {
    const auto scenario = parse_scenario(
        "leastwise: 1\n"
        "materials:\n"
        "  white: {form: granule, contains_percent: {N: 46}, price_per_t: 400}\n"
        "  brown: {form: granule, contains_percent: {N: 46}, price_per_t: 410}\n"
        "rates_kg_per_ha: {N: {min: 46}}\n"
        "risk: {draws: 200000, prices: {white: {lognormal_percent: 10}}}\n");
    RiskOptions options;
    for (const unsigned threads : {1U, 4U}) {
      options.threads = threads;
      options.progress = [](long, long) { throw std::runtime_error("no more"); };
      CHECK_THROWS_AS((void)price_risk(scenario, options), std::runtime_error);
    }
  }
}

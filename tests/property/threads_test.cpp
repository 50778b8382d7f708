#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>

#include <cstdlib>
#include <string>
#include <thread>
#include <vector>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::size_t threads = 8;

/// Fewer under a sanitizer:  LEASTWISE_THREAD_SCENARIOS=50 property_tests -ts=threads
std::size_t thread_scenarios() {
  const char* text = std::getenv("LEASTWISE_THREAD_SCENARIOS");
  return text == nullptr ? 1000 : std::strtoul(text, nullptr, 10);
}

std::string report_of(std::uint64_t seed) {
  const ScenarioKind kind{.materials = 8 + static_cast<int>(seed % 9)};
  return to_json(formulate(random_scenario(seed, kind), {.intervals = seed % 4 == 0}));
}

}  // namespace

TEST_SUITE("threads") {
  TEST_CASE("eight threads give the same bytes as one") {
    std::vector<std::string> alone;
    for (std::uint64_t seed = 0; seed < thread_scenarios(); ++seed) alone.push_back(report_of(seed));
    std::vector<std::vector<std::uint64_t>> different(threads);
    {
      std::vector<std::jthread> pool;
      for (std::size_t t = 0; t < threads; ++t)
        pool.emplace_back([&, t] {
          // Each thread starts elsewhere, so that different scenarios are solved at one time.
          for (std::size_t k = 0; k < alone.size(); ++k) {
            const std::uint64_t seed = (k + t * alone.size() / threads) % alone.size();
            if (report_of(seed) != alone[seed]) different[t].push_back(seed);
          }
        });
    }
    for (const auto& seeds : different) {
      CHECK(seeds.empty());
      if (!seeds.empty()) FAIL_CHECK("first seed with other bytes: ", seeds.front());
    }
  }
}

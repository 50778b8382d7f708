#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <cmath>

#include "support/generator.hpp"
#include "support/random.hpp"
#include "support/reading.hpp"

// The random scenarios themselves: valid, repeatable, and of the kind asked for. And the figures
// that the independent reading works out again are those the scenario states.

using namespace leastwise;
using namespace leastwise::support;

TEST_SUITE("generator") {
  TEST_CASE("every random draft is a valid scenario, read alike by both readings") {
    for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
      CAPTURE(seed);
      const Scenario scenario = random_scenario(seed, {.either_or = seed % 2 == 0});
      const Reading reading = read(scenario);
      for (std::size_t i = 0; i < reading.size(); ++i) {
        CAPTURE(reading.material[i]);
        const double cost = scenario.cost_per_kg(i);
        CHECK(std::fabs(cost - reading.cost_per_kg[i]) <= 1e-13 * (1 + std::fabs(cost)));
        CHECK(scenario.mass_factor(i) == doctest::Approx(reading.mass[i]).epsilon(1e-15));
      }
    }
  }

  TEST_CASE("a scenario without either-or rules has none") {
    for (std::uint64_t seed = 1; seed <= 500; ++seed) {
      CAPTURE(seed);
      const Scenario scenario = random_scenario(seed, {.either_or = false});
      CHECK(scenario.exclusions().empty());
      CHECK_FALSE(scenario.bins().has_value());
      for (const Material& material : scenario.materials())
        CHECK(material.min_if_used_percent == 0);
    }
  }

  TEST_CASE("the same seed gives the same scenario, of the size asked for") {
    for (const int materials : {12, 60, 400}) {
      const Scenario first = random_scenario(5, {.materials = materials});
      const Scenario second = random_scenario(5, {.materials = materials});
      CHECK(first.materials().size() == static_cast<std::size_t>(materials));
      for (std::size_t i = 0; i < first.materials().size(); ++i)
        CHECK(first.cost_per_kg(i) == second.cost_per_kg(i));
    }
    // A pinned draw: the stream of numbers must not depend on the platform.
    CHECK(Random(1).bits() == 0xb3f2af6d0fc710c5ULL);
  }

  TEST_CASE("about one scenario in ten cannot be blended") {
    int impossible = 0;
    for (std::uint64_t seed = 5000; seed < 5400; ++seed)
      impossible += formulate(random_scenario(seed), {.intervals = false}).conflict() != nullptr;
    CHECK(impossible >= 24);
    CHECK(impossible <= 100);
  }
}

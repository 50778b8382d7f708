#include <doctest/doctest.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/report.hpp>

#include <cstdlib>
#include <string>

#include "model/model.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

// What a prepared scenario answers to random changes against `formulate` of a fresh scenario, byte
// for byte.
//
// More of them:  LEASTWISE_PREPARED_SCENARIOS=5000 property_tests -ts=prepared

using namespace leastwise;
using namespace leastwise::support;

namespace {

std::uint64_t prepared_scenarios() {
  const char* text = std::getenv("LEASTWISE_PREPARED_SCENARIOS");
  return text == nullptr ? 120 : std::strtoul(text, nullptr, 10);
}

WhatIf random_change(const Scenario& scenario, Random& random) {
  WhatIf change;
  const auto materials = scenario.materials();
  if (random.chance(0.8)) {
    const auto& material = materials[random.index(materials.size())];
    change.prices.push_back({material.name, random.between(0.3, 2) * material.price_per_t});
  }
  const auto model = model::build(scenario);
  if (random.chance(0.4) && !model.rules.empty()) {
    const auto& rule = model.rules[random.index(model.rules.size())];
    const auto id = model::origin_of(rule, scenario).id;
    const bool whole = rule.kind == RuleKind::bins;
    if (!rules::is_guard(rule.kind) && rule.kind != RuleKind::left_out && !whole &&
        !model::declared_of(rule, scenario))
      change.limits.push_back({id, rule.limit * random.between(0.8, 1.2)});
  }
  if (random.chance(0.2)) change.without = {materials[random.index(materials.size())].name};
  return change;
}

}  // namespace

TEST_SUITE("prepared") {
  TEST_CASE("prepared answers are those of fresh scenarios, byte for byte") {
    int compared = 0;
    int refused = 0;
    int conflicts = 0;
    for (std::uint64_t seed = 930'000; seed < 930'000 + prepared_scenarios(); ++seed) {
      CAPTURE(seed);
      Random random(seed);
      const auto scenario = random_scenario(
          seed, {.materials = 8 + static_cast<int>(seed % 40), .either_or = seed % 3 != 0});
      const PreparedBlend prepared(scenario);
      const SolveOptions options{.intervals = seed % 10 == 0};
      for (int k = 0; k < 6; ++k) {
        CAPTURE(k);
        const auto change = random_change(scenario, random);
        try {
          const auto fresh = formulate(prepared.changed(change), options);
          const auto answer = prepared.formulate(change, options);
          CHECK(to_json(answer) == to_json(fresh));
          ++compared;
          conflicts += answer.conflict() != nullptr;
        } catch (const InputError&) {
          CHECK_THROWS_AS((void)prepared.formulate(change, options), InputError);
          ++refused;
        } catch (const std::invalid_argument&) {
          ++refused;  // a price below zero without a total
        }
      }
    }
    CHECK(compared > static_cast<int>(prepared_scenarios()) * 4);
    CHECK(conflicts > 5);
    MESSAGE(compared, " compared, ", refused, " refused");
  }
}

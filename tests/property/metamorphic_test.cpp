#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/answers.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"
#include "support/rule_changes.hpp"

// What must follow when a scenario is changed in a known way. No optimum needs to be known.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::uint64_t metamorphic_scenarios = 150;

bool not_above(double cost, double other) {
  return cost <= other + 1e-9 * std::max(1.0, std::fabs(other));
}
bool same(double a, double b) { return not_above(a, b) && not_above(b, a); }

/// Calls `check(draft, reply, random)` for the scenarios of one test.
template <typename Check>
void for_each_scenario(std::uint64_t first_seed, Check check) {
  for (std::uint64_t seed = first_seed; seed < first_seed + metamorphic_scenarios; ++seed) {
    CAPTURE(seed);
    const ScenarioDraft draft = random_draft(seed, {.either_or = seed % 4 != 0});
    Random random(seed);
    check(draft, reply_to(draft), random);
  }
}

void set_price(ScenarioDraft& draft, std::size_t i, double price) {
  draft.materials[i].price_per_t = price;
  for (PriceDraft& line : draft.prices)
    if (line.material == draft.materials[i].name) line.price_per_t = price;
}

double price_of(const ScenarioDraft& draft, std::size_t i) {
  for (const PriceDraft& line : draft.prices)
    if (line.material == draft.materials[i].name) return line.price_per_t;
  return draft.materials[i].price_per_t.value();
}

}  // namespace

TEST_SUITE("metamorphic") {
  TEST_CASE("raising a price never lowers the cost and never changes what is possible") {
    for_each_scenario(20'000, [](const ScenarioDraft& draft, const Reply& before, Random& random) {
      for (int k = 0; k < 3; ++k) {
        ScenarioDraft dearer = draft;
        std::size_t i = random.index(draft.materials.size());
        if (before.answer->blend() != nullptr && k > 0) {
          const auto& portions = before.answer->blend()->portions;
          const std::string name = portions[random.index(portions.size())].material;
          while (draft.materials[i].name != name) i = (i + 1) % draft.materials.size();
        }
        set_price(dearer, i, price_of(draft, i) + random.between(1, 300));
        const Reply after = reply_to(dearer);
        REQUIRE(after.outcome == before.outcome);
        if (before.outcome == PeerOutcome::blend) CHECK(not_above(before.cost, after.cost));
      }
    });
  }

  TEST_CASE("dropping a rule never raises the cost and never makes a blend impossible") {
    for_each_scenario(21'000, [](const ScenarioDraft& draft, const Reply& before, Random& random) {
      std::vector<RuleId> rules = rule_ids(Scenario(draft));
      random.shuffle(rules);
      rules.resize(std::min<std::size_t>(rules.size(), 5));
      for (const RuleId& rule : rules) {
        const std::string name = to_string(rule);
        CAPTURE(name);
        const Reply after = reply_to(without_rule(draft, rule));
        if (after.outcome == PeerOutcome::refused || before.outcome != PeerOutcome::blend) continue;
        REQUIRE(after.possible());
        if (after.outcome == PeerOutcome::blend) CHECK(not_above(after.cost, before.cost));
      }
    });
  }

  TEST_CASE("the order of the materials does not matter") {
    for_each_scenario(22'000, [](const ScenarioDraft& draft, const Reply& before, Random& random) {
      ScenarioDraft shuffled = draft;
      random.shuffle(shuffled.materials);
      random.shuffle(shuffled.rates_kg_per_ha);
      random.shuffle(shuffled.grade_percent);
      const Reply after = reply_to(shuffled);
      REQUIRE(after.outcome == before.outcome);
      CHECK(same(after.cost, before.cost));
    });
  }

  TEST_CASE("another unit of money scales the cost and nothing else") {
    for_each_scenario(23'000, [](const ScenarioDraft& draft, const Reply& before, Random& random) {
      const double factor = std::pow(2.0, random.whole(-6, 10));  // exact in binary
      ScenarioDraft scaled = draft;
      for (MaterialDraft& material : scaled.materials) {
        *material.price_per_t *= factor;
        if (material.freight_per_t) *material.freight_per_t *= factor;
      }
      for (PriceDraft& line : scaled.prices) {
        line.price_per_t *= factor;
        if (line.freight_per_t) *line.freight_per_t *= factor;
      }
      if (scaled.binder && scaled.binder->price_per_t) *scaled.binder->price_per_t *= factor;
      if (scaled.blending_fee_per_t) *scaled.blending_fee_per_t *= factor;
      const Reply after = reply_to(scaled);
      REQUIRE(after.outcome == before.outcome);
      CHECK(same(after.cost / factor, before.cost));
    });
  }

  TEST_CASE("a material that is dear and holds nothing asked for changes nothing") {
    for_each_scenario(24'000, [](const ScenarioDraft& draft, const Reply& before, Random&) {
      ScenarioDraft wider = draft;
      MaterialDraft useless;
      useless.name = "gold-dust";
      useless.form = Form::granule;
      useless.family = "filler";
      useless.contains_percent = std::vector<Content>{{"Si", 1.0}};
      useless.price_per_t = 5e6;
      wider.materials.push_back(useless);
      const Reply after = reply_to(wider);
      // As a filler of no use it may still make room under an upper limit, at its price.
      if (before.outcome == PeerOutcome::impossible) {
        CHECK((after.outcome == PeerOutcome::impossible || after.cost > 1000));
        return;
      }
      REQUIRE(after.outcome == before.outcome);
      CHECK(not_above(after.cost, before.cost));
      const auto& portions = after.answer->blend()->portions;
      const bool taken = std::any_of(portions.begin(), portions.end(),
                                     [](const Portion& p) { return p.material == "gold-dust"; });
      CHECK_FALSE(taken);
    });
  }

  TEST_CASE("a price changed through the scenario is the price changed in the draft") {
    for_each_scenario(25'000, [](const ScenarioDraft& draft, const Reply&, Random& random) {
      const Scenario scenario(draft);
      const auto& material = scenario.materials()[random.index(scenario.materials().size())];
      std::size_t i = 0;
      while (draft.materials[i].name != material.name) ++i;
      ScenarioDraft changed = draft;
      const double price = std::floor(random.between(5, 900));
      set_price(changed, i, price);
      const Formulation direct =
          formulate(scenario.with_price(material.name, price), {.intervals = false});
      const Reply through_draft = reply_to(changed);
      REQUIRE((direct.blend() != nullptr) == (through_draft.outcome == PeerOutcome::blend));
      if (direct.blend() == nullptr) return;
      CHECK(direct.blend()->cost_per_t == through_draft.answer->blend()->cost_per_t);
    });
  }
}

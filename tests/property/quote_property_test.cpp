#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/quote.hpp>

#include <algorithm>
#include <cmath>

#include "support/generator.hpp"
#include "support/random.hpp"

// Quotes and the worth of rules for random scenarios: what must add up adds up.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::uint64_t quoted_scenarios = 200;

long long cents(double money) { return std::llround(money * 100); }

QuoteTerms random_terms(Random& random) {
  QuoteTerms terms;
  if (random.chance(0.5)) terms.overhead_per_t = random.between(0, 30);
  if (random.chance(0.5)) terms.outbound_freight_per_t = random.between(0, 40);
  if (random.chance(0.5)) terms.bags = BagTerms{random.between(5, 1000), random.between(0, 8)};
  if (random.chance(0.4))
    terms.margin_percent = random.between(0, 60);
  else if (random.chance(0.4))
    terms.markup_percent = random.between(0, 90);
  else if (random.chance(0.4))
    terms.margin_per_t = random.between(0, 90);
  return terms;
}

void check_sums(const Quote& quote) {
  long long per_t = 0;
  long long order = 0;
  for (const QuoteLine& line : quote.lines) {
    per_t += cents(line.amount_per_t);
    order += cents(line.amount.value_or(0));
    if (line.kind == QuoteLineKind::material && line.kg) {  // never a whole cent off
      const double exact = *line.delivered_per_t * *line.kg / 1000;
      CHECK(std::fabs(*line.amount - exact) < 0.01 + 1e-9 * std::fabs(exact));
    }
  }
  CHECK(per_t == cents(quote.per_t.delivered));
  if (!quote.order) return;
  CHECK(order == cents(quote.order->delivered));
  CHECK(cents(quote.order->delivered) == cents(quote.per_t.delivered * *quote.tonnes));
}

}  // namespace

TEST_SUITE("quotes of random scenarios") {
  TEST_CASE("lines add up to the price, per tonne and for the order, whatever the terms") {
    int quoted = 0;
    for (std::uint64_t seed = 1; seed <= quoted_scenarios; ++seed) {
      CAPTURE(seed);
      Random random(seed);
      ScenarioDraft draft = random_draft(seed);
      draft.quote = random_terms(random);
      if (draft.binder && !draft.binder->price_per_t) draft.binder->price_per_t = 0;
      if (!draft.binder) draft.binder = BinderDraft{"sodium-silicate", {}, 0.0, false};
      if (!draft.make_hectares && random.chance(0.6)) draft.make_tonnes = random.between(0.1, 900);
      const Scenario scenario(draft);
      const Formulation answer = formulate(scenario, {.intervals = false});
      if (!answer.blend()) continue;
      ++quoted;
      check_sums(quote_of(scenario, *answer.blend()));
    }
    CHECK(quoted > static_cast<int>(quoted_scenarios / 3));
  }

  // Strong duality: prices of rules times what they count are the cost of the blend.
  TEST_CASE("what the rules pay for adds up to the cost of every blend") {
    int blends = 0;
    for (std::uint64_t seed = 1; seed <= quoted_scenarios; ++seed) {
      CAPTURE(seed);
      const Formulation answer = formulate(random_scenario(seed), {.intervals = false});
      const Blend* blend = answer.blend();
      if (blend == nullptr) continue;
      ++blends;
      CHECK(blend->cost_parts_add_up);
      double sum = 0;
      for (const CostPart& part : blend->cost_parts) sum += part.cost;
      const double cost = blend->cost_per_ha.value_or(blend->cost_per_t);
      CHECK(std::fabs(sum - cost) <= 1e-6 * std::max(1.0, std::fabs(cost)));
    }
    CHECK(blends > static_cast<int>(quoted_scenarios / 3));
  }

  // A price above the worth is a lower bound of what forcing costs: cost is convex in what is
  // forced where there are no either-or rules.
  TEST_CASE("forcing a material costs at least what it is too dear") {
    int forced = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
      CAPTURE(seed);
      const Scenario scenario =
          random_scenario(seed, {.either_or = false, .basis = Basis::per_tonne});
      SolveOptions options{.intervals = false};
      for (const Material& material : scenario.materials()) options.why.push_back(material.name);
      const Formulation answer = formulate(scenario, options);
      if (!answer.blend()) continue;
      for (const WhyMaterial& why : answer.blend()->why) {
        if (why.used || !why.forced_cost || why.why == "unasked micronutrient") continue;
        CAPTURE(why.material);
        ++forced;
        const double least = (why.cost_per_t - why.worth_per_t) * why.forced_percent / 100;
        CHECK(why.forced_rise.value() >= least - 1e-6 * std::max(1.0, std::fabs(least)));
      }
    }
    CHECK(forced > 100);
  }
}

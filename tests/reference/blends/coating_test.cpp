#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <string>
#include <vector>

// Coated against granular micronutrients: common practice, not a published figure.

using namespace leastwise;

namespace {

ScenarioDraft zinc_scenario(Form form, bool micronutrient_granule) {
  ScenarioDraft draft;
  draft.currency = "USD";
  MaterialDraft base;
  base.name = "bulk";
  base.form = Form::granule;
  base.contains_percent = std::vector<Content>{{"N", 20}, {"N-ammonium", 20}};
  base.price_per_t = 300.0;
  MaterialDraft zinc;
  zinc.name = "zinc";
  zinc.form = form;
  zinc.contains_percent = std::vector<Content>{{"Zn", 36}};
  zinc.price_per_t = 1200.0;
  if (micronutrient_granule) zinc.micronutrient_granule = true;
  draft.materials = {base, zinc};
  draft.rates_kg_per_ha = {{"N", {.min = 60}}, {"Zn", {.min = 1}}};
  return draft;
}

Blend blend_of(const ScenarioDraft& draft) {
  const Formulation answer = formulate(Scenario(draft));
  REQUIRE(answer.blend() != nullptr);
  return *answer.blend();
}

double zinc_kg(const Blend& blend) {
  for (const Supply& supply : blend.supply)
    if (supply.nutrient == "Zn") return supply.kg_per_ha.value();
  return 0;
}

}  // namespace

TEST_SUITE("coating") {
  TEST_CASE("a coated scenario needs a third of the zinc that a granular one needs") {
    // Common practice: dedicated granules at 2 to 4 times the coated rate.
    const Blend coated = blend_of(zinc_scenario(Form::powder, false));
    const Blend granular = blend_of(zinc_scenario(Form::granule, true));
    CHECK(zinc_kg(coated) == doctest::Approx(1));
    CHECK(zinc_kg(granular) == doctest::Approx(3 * zinc_kg(coated)));
    const double factor = zinc_kg(granular) / zinc_kg(coated);
    CHECK(factor >= 2);
    CHECK(factor <= 4);
  }

  TEST_CASE("zinc spread through every granule needs no factor") {
    CHECK(zinc_kg(blend_of(zinc_scenario(Form::granule, false))) == doctest::Approx(1));
  }

  TEST_CASE("the binder is 35 to 40 % of the powder, and is weighed and paid for") {
    // Common practice: 35 to 40 % of the mass of the powder; the default lies between.
    const ScenarioDraft draft = zinc_scenario(Form::powder, false);
    const Blend blend = blend_of(draft);
    const double powder = 1 / 0.36;
    const double binder = blend.binder.kg_per_ha.value();
    CHECK(binder / powder >= 0.35);
    CHECK(binder / powder <= 0.40);
    CHECK(binder == doctest::Approx(0.375 * powder));
    CHECK(*blend.total_kg_per_ha == doctest::Approx(300 + 1.375 * powder));
    ScenarioDraft paid = draft;
    paid.binder = BinderDraft{"canola-oil", {}, 1400.0, {}};
    CHECK(*blend_of(paid).cost_per_ha - *blend.cost_per_ha ==
          doctest::Approx(0.375 * powder * 1.4));
  }

  TEST_CASE("more powder than the granules can hold is a conflict with the coating rule") {
    ScenarioDraft draft = zinc_scenario(Form::powder, false);
    draft.rates_kg_per_ha[1].limits.min = 10;  // 38 kg of coating on 300 kg: over 2 %
    draft.total_kg_per_ha = Limits{.max = 400};
    const Formulation answer = formulate(Scenario(draft));
    REQUIRE(answer.conflict() != nullptr);
    bool named = false;
    for (const ConflictingRule& rule : answer.conflict()->rules)
      named = named || rule.rule == "coating max";
    CHECK(named);
  }
}

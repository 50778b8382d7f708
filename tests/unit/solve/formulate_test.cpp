#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

const BindingRule* binding(const Blend& blend, const std::string& rule) {
  for (const auto& b : blend.binding)
    if (b.rule == rule) return &b;
  return nullptr;
}

double kg_per_t(const Blend& blend, const std::string& material) {
  for (const auto& p : blend.portions)
    if (p.material == material) return p.kg_per_t;
  return 0;
}

}  // namespace

TEST_SUITE("formulate") {
  TEST_CASE("the carrier and filler blend is the one worked by hand") {
    const auto answer = formulate(Scenario(carrier_and_filler()));
    REQUIRE(answer.blend());
    const auto& blend = *answer.blend();
    CHECK(blend.cost_per_t == doctest::Approx(137.5));
    CHECK(kg_per_t(blend, "carrier") == doctest::Approx(250));
    CHECK_FALSE(blend.cost_per_ha);
    const auto* n = binding(blend, "grade N min");
    REQUIRE(n);
    CHECK(n->shadow_price == doctest::Approx(8.75));
    CHECK(n->unit == "crowns/t per %");
    CHECK(*n->holds_from == doctest::Approx(0));
    CHECK(*n->holds_to == doctest::Approx(40));
    CHECK(n->unique == true);
  }

  TEST_CASE("cost splits into material, freight, binder and blending to the last cent") {
    auto d = carrier_and_filler();
    d.materials[0].freight_per_t = 20;
    d.materials.push_back(stated("zinc", 3000, {{"Zn", 80}}, Form::powder));
    d.grade_percent.push_back({"Zn", at_least(0.4)});
    d.binder = BinderDraft{"water-glass", 40.0, 500.0, false};
    d.blending_fee_per_t = 15;
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.blend());
    const auto& b = *answer.blend();
    // 0.4 % Zn: 5 kg powder and 2 kg binder; 250 kg carrier; 743 kg filler.
    CHECK(b.breakdown.materials_per_t == doctest::Approx(100 + 15 + 743 * 0.05));
    CHECK(b.breakdown.freight_per_t == doctest::Approx(250 * 0.02));
    CHECK(b.breakdown.binder_per_t == doctest::Approx(1.0));
    CHECK(b.breakdown.blending_per_t == doctest::Approx(15));
    CHECK(b.cost_per_t == doctest::Approx(100 + 15 + 37.15 + 5 + 1 + 15));
    CHECK(b.binder.kg_per_t == doctest::Approx(2));
    double mass = b.binder.kg_per_t;
    for (const auto& p : b.portions) mass += p.kg_per_t;
    CHECK(mass == doctest::Approx(1000));
  }

  TEST_CASE("per hectare a zinc granule must carry three times what a coating carries") {
    ScenarioDraft d;
    d.materials = {stated("base", 300, {{"N", 20}}), stated("zinc granule", 1500, {{"Zn", 20}}),
                   stated("zinc powder", 9000, {{"Zn", 80}}, Form::powder)};
    d.materials[1].micronutrient_granule = true;
    d.binder = BinderDraft{"water-glass", {}, {}, false};
    d.rates_kg_per_ha = {{"N", at_least(60)}, {"Zn", at_least(1)}};
    const auto granular = formulate(Scenario(d));
    REQUIRE(granular.blend());
    // Granule: 15 kg at 22.50; powder 1.25 kg at 11.25: the powder wins.
    CHECK(*granular.blend()->cost_per_ha == doctest::Approx(90 + 11.25));
    d.materials.pop_back();
    const auto only_granule = formulate(Scenario(d));
    REQUIRE(only_granule.blend());
    CHECK(*only_granule.blend()->cost_per_ha == doctest::Approx(90 + 22.5));
    for (const auto& s : only_granule.blend()->supply)
      if (s.nutrient == "Zn") {
        CHECK(*s.kg_per_ha == doctest::Approx(3));
        CHECK(*s.effective_kg_per_ha == doctest::Approx(1));
      }
  }

  TEST_CASE("a question that nothing at all would answer is refused before it is solved") {
    ScenarioDraft d;
    d.materials = {stated("base", 300, {{"N", 20}})};
    d.rates_kg_per_ha = {{"N", {0, 100}}};
    CHECK_THROWS_AS(Scenario{d}, InputError);
  }

  TEST_CASE("an oxidizer in the blend is named, whatever the scenario calls it") {
    auto d = carrier_and_filler();
    const auto named = [](const Scenario& scenario) {
      const auto answer = formulate(scenario);
      REQUIRE(answer.blend());
      for (const auto& note : answer.blend()->notes)
        if (note.text.starts_with("Oxidizer (carrier)")) return note.level == NoteLevel::caution;
      return false;
    };
    CHECK_FALSE(named(Scenario(d)));
    d.materials[0].contains_percent = {{"N", 34}};
    d.materials[0].family = "ammonium-nitrate";
    CHECK(named(Scenario(d)));
  }

  TEST_CASE("without intervals prices are still there and the rest stays empty") {
    SolveOptions quick;
    quick.intervals = false;
    const auto answer = formulate(Scenario(carrier_and_filler()), quick);
    REQUIRE(answer.blend());
    const auto* n = binding(*answer.blend(), "grade N min");
    REQUIRE(n);
    CHECK(n->shadow_price == doctest::Approx(8.75));
    CHECK_FALSE(n->holds_from.is_computed());
    CHECK_FALSE(n->price_above.is_computed());
    CHECK_FALSE(n->unique.has_value());
    CHECK(known_sides(*n) == KnownSides::none);
  }

  TEST_CASE("a time limit of nothing is a stop, not a blend") {
    SolveOptions hurried;
    hurried.time_limit = std::chrono::duration<double>(0);
    auto d = carrier_and_filler();
    const auto answer = formulate(Scenario(d), hurried);
    REQUIRE(answer.stopped());
    CHECK(answer.stopped()->cause == StopCause::time_limit);
    CHECK_FALSE(answer.blend());
  }

  TEST_CASE("a cancelled call says so") {
    std::stop_source source;
    source.request_stop();
    SolveOptions options;
    options.stop = source.get_token();
    const auto answer = formulate(Scenario(carrier_and_filler()), options);
    REQUIRE(answer.stopped());
    CHECK(answer.stopped()->cause == StopCause::cancelled);
  }

  TEST_CASE("a by-product with a gate fee is used up to its limit") {
    auto d = carrier_and_filler();
    d.materials.push_back(stated("by-product", -20, {{"N", 2}}));
    d.materials.back().share_percent = at_most(30);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.blend());
    CHECK(kg_per_t(*answer.blend(), "by-product") == doctest::Approx(300));
    const auto* share = binding(*answer.blend(), "share by-product max");
    REQUIRE(share);
    CHECK(share->shadow_price < 0);
  }

  TEST_CASE("a pair kept apart says what it costs") {
    ScenarioDraft d;
    d.materials = {stated("a", 400, {{"N", 46}}), stated("b", 200, {{"N", 34}}),
                   stated("f", 40, {{"Ca", 30}})};
    d.incompatible = {{"a", "b"}};
    d.grade_percent = {{"N", at_least(38)}};
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.blend());
    // Alone: a at 38/46, the rest f. Together: a/3, 2/3 b.
    const double apart = 400 * 38 / 46.0 + 40 * 8 / 46.0;
    const double together = 400 / 3.0 + 200 * 2 / 3.0;
    CHECK(answer.blend()->cost_per_t == doctest::Approx(apart));
    REQUIRE(answer.blend()->exclusions.size() == 1);
    CHECK(answer.blend()->exclusions[0].costs_per_t == doctest::Approx(apart - together));
    for (const auto& u : answer.blend()->unused)
      if (u.material == "b") CHECK(u.why == "exclusion");
  }

  TEST_CASE("one bin more has its price") {
    ScenarioDraft d;
    d.materials = {stated("n", 400, {{"N", 46}}), stated("np", 600, {{"N", 11}, {"P2O5", 52}}),
                   stated("f", 40, {{"Ca", 30}})};
    d.bins = 2;
    d.grade_percent = {{"N", at_least(10)}, {"P2O5", at_least(10)}};
    const auto two = formulate(Scenario(d));
    d.bins = 3;
    const auto three = formulate(Scenario(d));
    REQUIRE(two.blend());
    REQUIRE(three.blend());
    const auto* bins = binding(*two.blend(), "bins");
    REQUIRE(bins);
    CHECK(bins->shadow_price ==
          doctest::Approx(three.blend()->cost_per_t - two.blend()->cost_per_t));
    CHECK(bins->shadow_price < 0);
  }
}

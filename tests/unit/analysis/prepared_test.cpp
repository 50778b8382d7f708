#include <doctest/doctest.h>
#include <leastwise/compare.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/report.hpp>

#include <stdexcept>
#include <thread>

using namespace leastwise;

namespace {

/// Urea for N, MAP for P, MOP for K: 100 kg N, 40 P2O5 and 30 K2O a hectare at least.
ScenarioDraft order() {
  ScenarioDraft draft;
  const auto add = [&](const char* name, double price) {
    draft.materials.push_back({.name = name, .price_per_t = price});
  };
  add("urea", 410);
  add("map", 620);
  add("mop", 380);
  add("ammonium-sulfate", 250);
  draft.rates_kg_per_ha = {{.nutrient = "N", .limits = {.min = 100}},
                           {.nutrient = "P2O5", .limits = {.min = 40}},
                           {.nutrient = "K2O", .limits = {.min = 30, .max = 60}}};
  draft.total_kg_per_ha = Limits{.max = 600};
  return draft;
}

std::string told(const Formulation& answer) { return to_json(answer) + to_text(answer); }

const RuleId n_min{.kind = RuleKind::rate, .subject = "N", .side = RuleSide::min};
const RuleId k_max{.kind = RuleKind::rate, .subject = "K2O", .side = RuleSide::max};

}  // namespace

TEST_SUITE("prepared blend") {
  TEST_CASE("a price, a limit and a material that cannot be had are answered as a fresh scenario") {
    const Scenario scenario(order());
    const PreparedBlend prepared(scenario);
    CHECK(told(prepared.formulate()) == told(formulate(scenario)));
    for (const double price : {100.0, 390.0, 800.0})
      CHECK(told(prepared.with_price("urea", price)) ==
            told(formulate(scenario.with_price("urea", price))));
    auto more = order();
    more.rates_kg_per_ha[0].limits.min = 120;
    CHECK(told(prepared.with_limit(n_min, 120)) == told(formulate(Scenario(more))));
    auto lacking = order();
    lacking.materials[0].left_out = true;
    CHECK(told(prepared.without("urea")) == told(formulate(Scenario(lacking))));
    CHECK(told(prepared.formulate()) == told(formulate(scenario)));  // nothing is left behind
  }

  TEST_CASE("what cannot be blended without a material is a conflict that names it") {
    const auto answer = PreparedBlend(Scenario(order())).without("mop");
    REQUIRE(answer.conflict() != nullptr);
    CHECK(told(answer).find("without mop") != std::string::npos);
  }

  TEST_CASE("a change that names nothing, or that no scenario may have, throws and harms nothing") {
    const Scenario scenario(order());
    const PreparedBlend prepared(scenario);
    CHECK_THROWS_AS((void)prepared.with_price("gold", 1), std::out_of_range);
    CHECK_THROWS_AS((void)prepared.without("gold"), std::out_of_range);
    CHECK_THROWS_AS((void)prepared.with_price("urea", 1e300), std::invalid_argument);
    CHECK_THROWS_AS((void)prepared.with_limit({.kind = RuleKind::bins}, 3), std::out_of_range);
    const RuleId n_max{.kind = RuleKind::rate, .subject = "N", .side = RuleSide::max};
    CHECK_THROWS_AS((void)prepared.with_limit(n_max, 3), std::out_of_range);
    CHECK_THROWS_AS((void)prepared.with_limit(k_max, 20), InputError);  // below its minimum
    CHECK_THROWS_AS((void)prepared.with_limit({.kind = RuleKind::unasked, .subject = "borax"}, 1),
                    std::invalid_argument);
    const WhatIf half_wrong{.prices = {{"urea", 1}, {"gold", 1}}};
    CHECK_THROWS_AS((void)prepared.formulate(half_wrong), std::out_of_range);
    CHECK(told(prepared.formulate()) == told(formulate(scenario)));
  }

  TEST_CASE("every kind of limit that a scenario states can be moved") {
    auto draft = order();
    draft.grade_percent = {{.nutrient = "Cl", .limits = {.max = 15}}};
    draft.ratios = {{.of = "P2O5", .to = "N", .limits = {.min = 0.3}}};
    draft.bins = 4;
    draft.make_hectares = 2;
    draft.materials[0].share_percent = Limits{.max = 80};
    draft.materials[1].stock_kg = 900;
    draft.materials[2].min_if_used_percent = 2;
    const PreparedBlend prepared{Scenario(draft)};
    const auto moved = [&](RuleId rule, double limit, auto change) {
      CAPTURE(to_string(rule));
      auto by_hand = draft;
      change(by_hand);
      CHECK(told(prepared.with_limit(std::move(rule), limit)) ==
            told(formulate(Scenario(by_hand))));
    };
    moved({RuleKind::grade, "Cl", {}, RuleSide::max}, 12,
          [](ScenarioDraft& d) { d.grade_percent[0].limits.max = 12; });
    moved({RuleKind::ratio, "P2O5", "N", RuleSide::min}, 0.5,
          [](ScenarioDraft& d) { d.ratios[0].limits.min = 0.5; });
    moved({RuleKind::total, {}, {}, RuleSide::max}, 500,
          [](ScenarioDraft& d) { d.total_kg_per_ha->max = 500; });
    moved({RuleKind::coating, {}, {}, RuleSide::max}, 1,
          [](ScenarioDraft& d) { d.coating_percent = Limits{.max = 1}; });
    moved({RuleKind::share, "urea", {}, RuleSide::max}, 30,
          [](ScenarioDraft& d) { d.materials[0].share_percent->max = 30; });
    moved({RuleKind::stock, "map", {}, RuleSide::none}, 150,
          [](ScenarioDraft& d) { d.materials[1].stock_kg = 150; });
    moved({RuleKind::minimum_if_used, "mop", {}, RuleSide::none}, 20,
          [](ScenarioDraft& d) { d.materials[2].min_if_used_percent = 20; });
    moved({RuleKind::bins, {}, {}, RuleSide::none}, 3, [](ScenarioDraft& d) { d.bins = 3; });
    CHECK_THROWS_AS((void)prepared.with_limit({.kind = RuleKind::bins}, 2.5),
                    std::invalid_argument);
  }

  TEST_CASE("many changes are answered in their order, on any number of threads") {
    const PreparedBlend prepared{Scenario(order())};
    std::vector<WhatIf> changes;
    for (int k = 0; k < 40; ++k) {
      changes.push_back({.prices = {{"urea", 200.0 + 20 * k}}});
      if (k % 5 == 0) changes.back().limits = {{n_min, 80.0 + k}};
    }
    const auto alone = formulate_many(prepared, changes, 1);
    const auto together = formulate_many(prepared, changes, 4);
    REQUIRE(alone.size() == changes.size());
    for (std::size_t k = 0; k < changes.size(); ++k) {
      CAPTURE(k);
      CHECK(told(alone[k]) == told(formulate(prepared.changed(changes[k]))));
      CHECK(told(alone[k]) == told(together[k]));
    }
    CHECK(formulate_many(prepared, {}, 2).empty());
    changes[7].without = {"gold"};
    CHECK_THROWS_AS((void)formulate_many(prepared, changes, 2), std::out_of_range);
  }
}

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>

#include "chemistry/materials/published_figures.hpp"
#include "unit/scenario/drafts.hpp"
#include "unit/scenario/proved_blend.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

double kg_of(const Blend& blend, std::string_view name) {
  const auto found = std::ranges::find(blend.portions, name, &Portion::material);
  return found == blend.portions.end() ? 0 : found->kg_per_ha.value_or(found->kg_per_t);
}

double supplied(const Blend& blend, std::string_view name) {
  const auto found = std::ranges::find(blend.supply, name, &Supply::nutrient);
  REQUIRE(found != blend.supply.end());
  return found->percent;
}

ScenarioDraft potash_blend() {
  ScenarioDraft draft;
  draft.materials = {drafts::built_in("mop", 395), drafts::built_in("sop", 780),
                     drafts::built_in("clay-filler", 45)};
  draft.grade_percent = {{"K2O", {.min = 30}}};
  return draft;
}

ScenarioDraft seed_row() {
  ScenarioDraft draft;
  draft.materials = {drafts::built_in("urea", 455), drafts::built_in("map", 665),
                     drafts::built_in("mop", 395)};
  draft.rates_kg_per_ha = {{"P2O5", {.min = 26}}};
  return draft;
}

double lime_need(const char* formula, const char* family) {
  MaterialDraft draft = drafts::material("pure", Form::granule, {});
  draft.contains_percent.reset();
  draft.formula = formula;
  draft.family = family;
  ScenarioDraft scenario;
  scenario.materials = {draft, drafts::built_in("urea")};
  scenario.grade_percent = {{"N", {.min = 1}}};
  return published_figure(Scenario(scenario).materials().front(), lime_need_name).value_or(0);
}

}  // namespace

TEST_SUITE("limits on published figures") {
  // Salt indices 116.2 and 42.6 (Mortvedt 2001), filler 0. With x kg of potassium chloride and y of
  // potassium sulfate in a tonne: 0.6 x + 0.5 y = 300 for 30 % K2O, and 0.1162 x + 0.0426 y = 40.
  TEST_CASE("a salt index is the mean of the materials by mass") {
    ScenarioDraft draft = potash_blend();
    const Blend free = proved_blend(draft);
    CHECK(kg_of(free, "mop") == Approx(500));
    draft.grade_percent.push_back({"salt-index", {.max = 40}});
    const Blend gentle = proved_blend(draft);
    const double mop = (40 - 0.0426 * 600) / (0.1162 - 0.0426 * 1.2);
    CHECK(kg_of(gentle, "mop") == Approx(mop));
    CHECK(kg_of(gentle, "sop") == Approx(600 - 1.2 * mop));
    CHECK(supplied(gentle, "salt-index") == Approx(40));
    // A unit more of the index is 1 / 0.06508 kg of chloride for 1.2 times as much sulfate; the
    // rest is filler.
    const auto rule = std::ranges::find(gentle.binding, "grade salt-index max", &BindingRule::rule);
    REQUIRE(rule != gentle.binding.end());
    CHECK(rule->price_unit.per == LimitUnit::none);
    CHECK(rule->shadow_price ==
          Approx((0.395 - 1.2 * 0.780 + 0.2 * 0.045) / (0.1162 - 0.0426 * 1.2)));
    const std::string page = to_text(Formulation(gentle));
    CHECK(page.find("salt-index (not %)  at most 40") != std::string::npos);
    CHECK(page.find("Mortvedt 2001") != std::string::npos);
  }

  TEST_CASE("what a material states stands above the table") {
    ScenarioDraft draft = potash_blend();
    draft.materials[1].contains_also_percent = std::vector<Content>{{"salt-index", 46.1}};
    draft.grade_percent.push_back({"salt-index", {.max = 40}});
    const double mop = (40 - 0.0461 * 600) / (0.1162 - 0.0461 * 1.2);
    CHECK(kg_of(proved_blend(draft), "mop") == Approx(mop));
  }

  // Ammonium sulfate leaves 110 and urea 84 kg of acid per 100 kg, in calcium carbonate (extension
  // table); dolomite filler makes up for 106. With x and y kg in a tonne: 0.21 x + 0.46 y = 150.
  TEST_CASE("a lime need adds up acid, and dolomite takes from it") {
    ScenarioDraft draft;
    draft.materials = {drafts::built_in("ammonium-sulfate", 150), drafts::built_in("urea", 455),
                       drafts::built_in("clay-filler", 45)};
    draft.grade_percent = {{"N", {.min = 15}}, {"lime-need", {.max = 50}}};
    const Blend clay = proved_blend(draft);
    const double sulfate = (500 - 0.84 * 150 / 0.46) / (1.1 - 0.84 * 0.21 / 0.46);
    CHECK(kg_of(clay, "ammonium-sulfate") == Approx(sulfate));
    CHECK(supplied(clay, "lime-need") == Approx(50));
    draft.materials[2] = drafts::built_in("dolomite-filler", 45);
    const Blend dolomite = proved_blend(draft);
    CHECK(kg_of(dolomite, "urea") == Approx(0));
    CHECK(supplied(dolomite, "lime-need") < 50);
  }

  TEST_CASE("a lime need per hectare is kg of calcium carbonate") {
    ScenarioDraft draft;
    draft.materials = {drafts::built_in("ammonium-sulfate", 150), drafts::built_in("urea", 455)};
    draft.rates_kg_per_ha = {{"N", {.min = 92}}, {"lime-need", {.max = 300}}};
    const Blend blend = proved_blend(draft);
    const double sulfate = (300 - 0.84 * 200) / (1.1 - 0.84 * 0.21 / 0.46);
    CHECK(kg_of(blend, "ammonium-sulfate") == Approx(sulfate));
  }

  // Neutralising values of pure limes, calcium carbonate = 100, as handbooks of liming print them:
  // calcium hydroxide 136, calcium oxide 179, magnesium carbonate 119, dolomite 109, magnesium
  // oxide 248 (common practice, from memory; an extension table prints 250). 1 % for rounding.
  TEST_CASE("limes have the neutralising value that handbooks print") {
    CHECK(lime_need("CaCO3", "limestone") == Approx(-100).epsilon(0.001));
    CHECK(lime_need("Ca(OH)2", "lime") == Approx(-136).epsilon(0.01));
    CHECK(lime_need("CaO", "lime") == Approx(-179).epsilon(0.01));
    CHECK(lime_need("MgCO3", "limestone") == Approx(-119).epsilon(0.01));
    CHECK(lime_need("CaMg(CO3)2", "limestone") == Approx(-109).epsilon(0.01));
    CHECK(lime_need("MgO", "lime") == Approx(-248).epsilon(0.01));
    // The rows of acidity.csv for the two fillers, computed there from their contents too.
    CHECK(published_figure(*find_built_in_material("limestone-filler"), lime_need_name).value() ==
          Approx(-80).epsilon(0.002));
    CHECK(published_figure(*find_built_in_material("dolomite-filler"), lime_need_name).value() ==
          Approx(-106).epsilon(0.002));
  }

  TEST_CASE("a material without a figure is an error, unless nothing lets it in") {
    ScenarioDraft draft = potash_blend();
    draft.materials.push_back(drafts::built_in("zinc-granule", 1500));
    draft.materials.push_back(drafts::built_in("kieserite", 390));
    draft.grade_percent.push_back({"salt-index", {.max = 40}});
    CHECK(drafts::errors_of(draft) ==
          std::vector<std::string>{"grade_percent.salt-index: no-figure"});
    draft.materials.back().contains_also_percent = std::vector<Content>{{"salt-index", 44}};
    CHECK(drafts::errors_of(draft).empty());
    draft.grade_percent.push_back({"Zn", {.min = 0.1}});
    CHECK(drafts::errors_of(draft) ==
          std::vector<std::string>{"grade_percent.salt-index: no-figure"});
  }

  // Regulation (EU) 2019/1009 Annex I PFC 1(C)(I): 60 mg Cd per kg of P2O5, biuret 12 g/kg.
  TEST_CASE("a trace that goods hold and do not state is pointed out") {
    ScenarioDraft draft = seed_row();
    draft.grade_percent = {{"Cd", {.max = 0.002}}, {"biuret", {.max = 0.9}}};
    draft.materials[0].contains_also_percent = std::vector<Content>{{"biuret", 0.8}};
    CHECK(drafts::says(Scenario(draft), NoteLevel::warning, "nothing of it in 'map'"));
    CHECK(drafts::says(Scenario(draft), NoteLevel::warning, "60 mg of it per kg of P2O5"));
    CHECK_FALSE(drafts::says(Scenario(draft), NoteLevel::warning, "may hold up to 1.2 %"));
    draft.materials[1].contains_also_percent = std::vector<Content>{{"Cd", 0.003}};
    CHECK_FALSE(drafts::says(Scenario(draft), NoteLevel::warning, "60 mg"));
  }

  TEST_CASE("a property with a unit in its name may be above 100, and mixes by mass") {
    ScenarioDraft draft;
    draft.materials = {
        drafts::material("a", Form::granule, {{"N", 20}, {"Cd-mg-per-kg", 300}}, 100),
        drafts::material("b", Form::granule, {{"N", 20}, {"Cd-mg-per-kg", 60}}, 200)};
    draft.grade_percent = {{"N", {.min = 10}}, {"Cd-mg-per-kg", {.max = 120}}};
    CHECK(kg_of(proved_blend(draft), "a") == Approx(250));
    draft.materials[0].contains_percent->back().name = "Cd";
    CHECK(drafts::errors_of(draft) ==
          std::vector<std::string>{"materials.a.contains_percent.Cd: out-of-range"});
  }

  TEST_CASE("an index is no mass: it has no rate and no ratio, and is in no sum") {
    ScenarioDraft draft = seed_row();
    draft.rates_kg_per_ha.push_back({"salt-index", {.max = 12}});
    draft.ratios = {{"lime-need", "N", {.max = 3}}};
    draft.grade_percent = {{"N + salt-index", {.max = 50}}};
    const std::vector<std::string> expected{"rates_kg_per_ha.salt-index: misplaced-key",
                                            "grade_percent.N + salt-index: bad-sum",
                                            "ratios.0.of: misplaced-key"};
    CHECK(drafts::errors_of(draft) == expected);
  }
}

TEST_SUITE("limits on sums") {
  // 50 kg of the phosphate bring 5.5 kg N and 26 kg P2O5; 14.5 kg more of N and K2O may come.
  TEST_CASE("nitrogen and potash beside the seed are limited together") {
    ScenarioDraft draft = seed_row();
    draft.rates_kg_per_ha.push_back({"N", {.min = 10}});
    draft.rates_kg_per_ha.push_back({"N + K2O", {.min = 20, .max = 20}});
    const Blend blend = proved_blend(draft);
    CHECK(kg_of(blend, "map") == Approx(50));
    CHECK(kg_of(blend, "urea") == Approx(4.5 / 0.46));
    CHECK(kg_of(blend, "mop") == Approx(10 / 0.6));
    draft.rates_kg_per_ha.back().limits = {.max = 9};
    const Formulation none = formulate(Scenario(draft));
    REQUIRE(none.conflict() != nullptr);
    CHECK(std::ranges::any_of(none.conflict()->rules, [](const ConflictingRule& rule) {
      return rule.rule == "rate N + K2O max";
    }));
  }

  TEST_CASE("a sum may be written with or without blanks, in grades and ratios too") {
    ScenarioDraft draft = potash_blend();
    draft.materials.push_back(drafts::built_in("urea", 455));
    draft.grade_percent = {{"N+K2O", {.min = 40}}};
    draft.ratios = {{"N + Cl", "K2O", {.max = 1}}};
    const Blend blend = proved_blend(draft);
    CHECK(supplied(blend, "N+K2O") == Approx(40));
    CHECK(parts_of_sum(" N +K2O ") == std::vector<std::string_view>{"N", "K2O"});
  }

  TEST_CASE("a sum asks for no micronutrient by itself") {
    ScenarioDraft draft = seed_row();
    draft.materials.push_back(drafts::built_in("zinc-granule", 1500));
    draft.rates_kg_per_ha.push_back({"Zn + P2O5", {.min = 30}});
    CHECK(kg_of(proved_blend(draft), "zinc-granule") == 0);
  }

  TEST_CASE("what counts twice, or is no name, is an error") {
    const auto code_of = [](const char* name) {
      ScenarioDraft draft = seed_row();
      draft.grade_percent = {{name, {.max = 50}}};
      const auto errors = drafts::errors_of(draft);
      return errors.empty() ? std::string() : errors.front().substr(errors.front().find(": ") + 2);
    };
    for (const char* wrong : {"P + P2O5", "N + N-urea", "N-slow + N-urea", "N + N", "N +", "+ N",
                              "P2O5-water + P2O5-citrate", "K + K2O"}) {
      CAPTURE(wrong);
      CHECK(code_of(wrong) == "bad-sum");
    }
    CHECK(code_of("N + K20") == "unknown-nutrient");
    for (const char* right : {"N-urea + N-ammonium", "N + P + K", "N + Zn", "Cl+Na"}) {
      CAPTURE(right);
      CHECK(code_of(right).empty());
    }
    ScenarioDraft draft = seed_row();
    draft.materials[0].contains_also_percent = std::vector<Content>{{"Cl + Na", 1}};
    CHECK(drafts::errors_of(draft) ==
          std::vector<std::string>{"materials.urea.contains_also_percent.Cl + Na: bad-name"});
  }
}

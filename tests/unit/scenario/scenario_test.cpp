#include <doctest/doctest.h>
#include <leastwise/scenario.hpp>

#include <limits>
#include <stdexcept>

#include "unit/scenario/drafts.hpp"

using doctest::Approx;
using leastwise::Basis;
using leastwise::Form;
using leastwise::Scenario;
using Errors = std::vector<std::string>;

TEST_SUITE("scenario") {
  TEST_CASE("a rate gives the per-hectare form, a grade alone the per-tonne form") {
    auto draft = drafts::nitrogen();
    CHECK(Scenario(draft).basis() == Basis::per_hectare);
    draft.grade_percent.push_back({"N", {20, 30}});
    CHECK(Scenario(draft).basis() == Basis::per_hectare);
    draft.rates_kg_per_ha.clear();
    CHECK(Scenario(draft).basis() == Basis::per_tonne);
    draft.grade_percent.clear();
    CHECK(drafts::errors_of(draft) == Errors{"rates_kg_per_ha: nothing-asked"});
  }

  TEST_CASE("rates without a minimum ask for nothing unless the total has one") {
    auto draft = drafts::nitrogen();
    draft.rates_kg_per_ha.front().limits = {-std::numeric_limits<double>::infinity(), 66};
    CHECK(drafts::errors_of(draft) == Errors{"rates_kg_per_ha: nothing-asked"});
    draft.rates_kg_per_ha.front().limits.min = 0;
    CHECK(drafts::errors_of(draft) == Errors{"rates_kg_per_ha: nothing-asked"});
    draft.total_kg_per_ha = leastwise::Limits{100, 100};
    CHECK(drafts::errors_of(draft).empty());
  }

  TEST_CASE("the cost of a granule is its price, freight and the blending fee") {
    auto draft = drafts::nitrogen();
    draft.materials.front().freight_per_t = 12;
    draft.blending_fee_per_t = 18;
    const Scenario scenario(draft);
    CHECK(scenario.mass_factor(0) == 1);
    CHECK(scenario.cost_per_kg(0) == Approx((460 + 12 + 18) / 1000.0));
  }

  TEST_CASE("a powder brings its binder, which costs and is blended too") {
    // 1 kg of powder at 3100 + 0.375 kg of oil at 1400, 1.375 kg blended at 18, all per tonne:
    // (3100 + 525 + 24.75) / 1000.
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("zinc", Form::powder, {{"Zn", 78}}, 3100));
    draft.binder = leastwise::BinderDraft{"canola-oil", {}, 1400, {}};
    draft.blending_fee_per_t = 18;
    const Scenario scenario(draft);
    CHECK(scenario.binder().percent_of_powder == 37.5);
    CHECK(scenario.mass_factor(1) == Approx(1.375));
    CHECK(scenario.cost_per_kg(1) == Approx(3.64975));
  }

  TEST_CASE("ground crystal counts as a powder, unground crystal stays out") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("zinc", Form::crystal, {{"Zn", 22}}));
    CHECK(Scenario(draft).mass_factor(1) == 1);
    CHECK_FALSE(Scenario(draft).materials()[1].can_enter());
    draft.materials[1].ground = true;
    CHECK(Scenario(draft).mass_factor(1) == Approx(1.375));
    CHECK(Scenario(draft).materials()[1].can_enter());
  }

  TEST_CASE("contents of targets and ratios run along the materials, oxides converted") {
    // P2O5 to P: 2 x 30.973761998 / 141.942523996, IUPAC atomic weights.
    auto draft = drafts::nitrogen();
    draft.materials.push_back(
        drafts::material("phosphate", Form::granule, {{"N", 11}, {"P2O5", 52}}));
    draft.rates_kg_per_ha.push_back({"P", {20, 40}});
    draft.ratios.push_back({"N", "P2O5", {0.5, 2}});
    const Scenario scenario(draft);
    REQUIRE(scenario.rates().size() == 2);
    CHECK(scenario.rates()[1].content_percent[0] == 0);
    CHECK(scenario.rates()[1].content_percent[1] == Approx(52 * 2 * 30.973761998 / 141.942523996));
    CHECK(scenario.rates()[1].path == "rates_kg_per_ha.P");
    REQUIRE(scenario.ratios().size() == 1);
    CHECK(scenario.ratios()[0].of_percent == std::vector<double>{46, 11});
    CHECK(scenario.ratios()[0].to_percent == std::vector<double>{0, 52});
    CHECK(scenario.ratios()[0].path == "ratios.0");
  }

  TEST_CASE("only the dedicated granule of a micronutrient reaches the crop in part") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("coat", Form::powder, {{"Zn", 78}}));
    draft.materials.push_back(drafts::material("grain", Form::granule, {{"Zn", 20}, {"S", 10}}));
    draft.materials.back().micronutrient_granule = true;
    draft.rates_kg_per_ha.push_back({"Zn", {1, 5}});
    draft.rates_kg_per_ha.push_back({"S", {1, 5}});
    CHECK(Scenario(draft).rates()[1].availability[1] == 1);
    CHECK(Scenario(draft).rates()[1].availability[2] == Approx(1 / 3.0));
    CHECK(Scenario(draft).rates()[2].availability[2] == 1);
    draft.granular_micronutrient_factor = 4;
    CHECK(Scenario(draft).rates()[1].availability[2] == Approx(0.25));
    draft.granular_micronutrient_factors = {{"Zn", 2}};
    CHECK(Scenario(draft).rates()[1].availability[2] == Approx(0.5));
  }

  TEST_CASE("settings that are not stated have their defaults") {
    const Scenario scenario(drafts::nitrogen());
    CHECK(scenario.coating_max_percent() == 2);
    CHECK(scenario.binder().material.empty());
    CHECK(scenario.blending_fee_per_t() == 0);
    CHECK_FALSE(scenario.bins());
    CHECK_FALSE(scenario.total_kg_per_ha().has_min());
    CHECK_FALSE(scenario.total_kg_per_ha().has_max());
    CHECK(scenario.notes().empty());
    CHECK_FALSE(scenario.place_of("materials.white"));
  }

  TEST_CASE("a price below zero needs a limit on the whole") {
    auto draft = drafts::nitrogen();
    draft.materials.front().price_per_t = -1;
    CHECK(drafts::errors_of(draft) == Errors{"materials.white.price_per_t: unbounded-cost"});
    draft.total_kg_per_ha = leastwise::Limits{0, 400};
    CHECK(drafts::errors_of(draft).empty());
    draft.total_kg_per_ha.reset();
    draft.rates_kg_per_ha.clear();
    draft.grade_percent.push_back({"N", {20, 46}});
    CHECK(drafts::errors_of(draft).empty());
  }

  TEST_CASE("another price makes another scenario and leaves the first alone") {
    auto draft = drafts::nitrogen();
    draft.materials.front().freight_per_t = 10;
    draft.prices.push_back({"white", 400, {}, {}});
    const Scenario scenario(draft);
    const Scenario dearer = scenario.with_price("white", 500);
    CHECK(scenario.cost_per_kg(0) == Approx(0.41));
    CHECK(dearer.cost_per_kg(0) == Approx(0.51));
    CHECK(dearer.materials()[0].price_per_t == 500);
    CHECK(Scenario(dearer.draft()).cost_per_kg(0) == Approx(0.51));
    CHECK_THROWS_AS(static_cast<void>(scenario.with_price("black", 1)), std::out_of_range);
    CHECK_THROWS_AS(static_cast<void>(scenario.with_price("white", -1)), std::invalid_argument);
    CHECK_THROWS_AS(
        static_cast<void>(scenario.with_price("white", std::numeric_limits<double>::quiet_NaN())),
        std::invalid_argument);
  }

  TEST_CASE("another price survives making the scenario anew from its draft") {
    auto draft = drafts::nitrogen();
    const Scenario dearer = Scenario(draft).with_price("white", 500);
    CHECK(Scenario(dearer.draft()).materials()[0].price_per_t == 500);
    draft.use = std::vector<std::string>{"urea"};
    draft.prices.push_back({"urea", 400, {}, {}});
    const Scenario used = Scenario(draft).with_price("urea", 390);
    CHECK(Scenario(used.draft()).materials()[0].price_per_t == 390);
  }

  TEST_CASE("what belongs to the hectare is refused without rates") {
    auto draft = drafts::nitrogen();
    draft.rates_kg_per_ha.clear();
    draft.grade_percent.push_back({"N", {20, 46}});
    draft.total_kg_per_ha = leastwise::Limits{100, 200};
    draft.make_hectares = 4;
    CHECK(drafts::errors_of(draft) ==
          Errors{"blend.total_kg_per_ha: needs-rates", "make.hectares: needs-rates"});
  }

  TEST_CASE("a target that nothing contains is an error, as a maximum only a warning") {
    auto draft = drafts::nitrogen();
    draft.grade_percent.push_back({"Cl", {1, 4}});
    CHECK(drafts::errors_of(draft) == Errors{"grade_percent.Cl: unknown-nutrient"});
    draft.grade_percent.back().limits.min = 0;
    CHECK(drafts::says(Scenario(draft), leastwise::NoteLevel::warning, "no material contains"));
  }

  TEST_CASE("a ratio needs both its names in the materials") {
    auto draft = drafts::nitrogen();
    draft.ratios.push_back({"S", "K2O", {1, 2}});
    CHECK(drafts::errors_of(draft) ==
          Errors{"ratios.0.of: unknown-nutrient", "ratios.0.to: unknown-nutrient"});
  }

  TEST_CASE("the same nutrient may be limited as element and as oxide") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("phosphate", Form::granule, {{"P2O5", 46}}));
    draft.rates_kg_per_ha.push_back({"P", {10, 20}});
    draft.rates_kg_per_ha.push_back({"P2O5", {20, 60}});
    CHECK(Scenario(draft).rates().size() == 3);
  }

  TEST_CASE("copies are independent and positions are found by name") {
    const Scenario scenario(drafts::nitrogen());
    Scenario copy = scenario;
    copy = copy.with_price("white", 1);
    CHECK(scenario.materials()[0].price_per_t == 460);
    CHECK(scenario.index_of("white") == 0);
    CHECK_FALSE(scenario.index_of("black"));
  }
}

#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/season_plan.hpp>

#include <algorithm>
#include <string>

#include "model/amount.hpp"
#include "solver/search.hpp"
#include "support/generator.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

/// Two sources of N, one dear and one cheap, and a filler: 20 % N takes 400 kg/t of the cheap one.
constexpr std::string_view yard_materials = R"(
      materials:
        cheap: {form: granule, contains_percent: {N: 50}, price_per_t: 300}
        dear: {form: granule, contains_percent: {N: 50}, price_per_t: 500}
        rich: {form: granule, contains_percent: {N: 80}, price_per_t: 1200}
        filler: {form: granule, contains_percent: {Ca: 30}, price_per_t: 0}
)";

std::string yard_blend(const std::string& name, const std::string& keys, const std::string& use,
                       const std::string& grade) {
  return "  " + name + ":\n    " + keys + "\n    scenario:\n      currency: USD" +
         std::string(yard_materials) + "      use: [" + use + "]\n      grade_percent: {N: {" +
         grade + "}}\n";
}

SeasonPlan planned(const std::string& text) {
  return plan_season(parse_season("leastwise: 1\nblends:\n" + text));
}

/// `first` can take the cheap or the dear source, `second` the cheap or the rich one.
std::string two_blends(const std::string& rest) {
  return yard_blend("first", "tonnes: 10", "cheap, dear, filler", "min: 20") +
         yard_blend("second", "tonnes: 10", "cheap, rich, filler", "min: 20") + rest;
}

double kg_per_t(const SeasonPlan& plan, std::size_t blend, const std::string& material) {
  for (const auto& portion : plan.blends[blend].blend->portions)
    if (portion.material == material) return portion.kg_per_t;
  return 0;
}

}  // namespace

TEST_SUITE_BEGIN("plan_season");

TEST_CASE("scarce stock goes where its replacement costs most") {
  // Each blend wants 4 t of the cheap source; 5 t are there. A tonne is replaced by a tonne of the
  // dear one (200 more) or by 0.625 t of the rich one (750 - 300 = 450 more).
  const auto plan = planned(two_blends("stock_kg: {cheap: 5000}\n"));
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(kg_per_t(plan, 1, "cheap") == Approx(400));
  CHECK(kg_per_t(plan, 0, "cheap") == Approx(100));
  CHECK(kg_per_t(plan, 0, "dear") == Approx(300));
  CHECK(plan.cost.value() == Approx(5 * 300 + 3 * 500));
  CHECK(plan.cost_apart.value() == Approx(8 * 300));
  REQUIRE(plan.shared.size() == 1);
  const auto& limit = plan.shared[0];
  CHECK(limit.used_kg == Approx(5000));
  CHECK(limit.shadow_price_per_t == Approx(-200));
  CHECK(*limit.price_above_per_t == Approx(-200));
  CHECK(*limit.price_below_per_t == Approx(-200));
  CHECK(*limit.holds_from_kg == Approx(4000));
  CHECK(*limit.holds_to_kg == Approx(8000));
  CHECK(limit.unique == true);
  REQUIRE(limit.uses.size() == 2);
  CHECK(limit.uses[0].kg == Approx(1000));
  CHECK(limit.uses[0].kg_alone == Approx(4000));
}

TEST_CASE("one by one the first blend takes what the second would pay more for") {
  // first: 4 t cheap; second: 1 t cheap and 1.875 t rich. 4*300 + 300 + 1.875*1200 = 3750.
  const auto plan = planned(two_blends("stock_kg: {cheap: 5000}\n"));
  REQUIRE(plan.one_by_one);
  CHECK((*plan.one_by_one).status == Status::optimal);
  CHECK((*plan.one_by_one).cost.value() == Approx(3750));
}

TEST_CASE("the cost of a tonne more counts what it takes from the others") {
  // A tonne more of `second` takes 0.4 t of the cheap source, 200 dearer a tonne for `first`.
  const auto plan = planned(two_blends("stock_kg: {cheap: 5000}\n"));
  CHECK(*plan.blends[1].marginal_cost == Approx(0.4 * 300 + 0.4 * 200));
  CHECK(*plan.blends[0].marginal_cost == Approx(0.4 * 500));
}

TEST_CASE("limits that nobody reaches leave each blend as formulate answers it, to the last bit") {
  for (const std::uint64_t seed : {3U, 8U, 21U, 34U, 55U, 89U}) {
    auto draft = support::random_draft(seed, {.basis = Basis::per_tonne, .sabotage = 0});
    draft.bins.reset();
    const Scenario scenario(draft);
    const auto alone = formulate(scenario);
    CAPTURE(seed);
    SeasonDraft season;
    SeasonBlendDraft only;
    only.name = "only";
    only.scenario = scenario;
    only.tonnes = Limits{25, 25};
    season.blends.push_back(only);
    Limits plenty;
    plenty.max = 1e9;
    if (seed % 2 == 0) season.stock_kg.push_back({scenario.materials()[0].name, plenty});
    const auto plan = plan_season(Season(season));
    REQUIRE(plan.outcome.status == alone.status());
    if (alone.blend() == nullptr) continue;
    const auto& portions = plan.blends[0].blend->portions;
    REQUIRE(portions.size() == alone.blend()->portions.size());
    for (std::size_t i = 0; i < portions.size(); ++i) {
      CHECK(portions[i].material == alone.blend()->portions[i].material);
      CHECK(portions[i].kg_per_t == alone.blend()->portions[i].kg_per_t);
    }
    CHECK(plan.blends[0].blend->cost_per_t == alone.blend()->cost_per_t);
  }
}

TEST_CASE("the joint program of one blend comes to what formulate answers") {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    auto draft = support::random_draft(seed);
    draft.bins.reset();
    const Scenario scenario(draft);
    const auto alone = formulate(scenario, {.intervals = false});
    const double amount = 37;
    const auto whole = model::for_amount(model::build(scenario), {amount, amount});
    const auto found = solver::search(whole.model);
    CAPTURE(seed);
    CHECK((found.status == solver::SearchStatus::optimal) == (alone.blend() != nullptr));
    if (alone.blend() == nullptr) continue;
    const double cost = alone.blend()->cost_per_ha.value_or(alone.blend()->cost_per_t);
    CHECK(found.cost == Approx(cost * amount).epsilon(1e-9));
    ++compared;
  }
  CHECK(compared > 20);
}

TEST_CASE("more is made only while it pays") {
  // A tonne costs 120 with the cheap source and 200 with the dear one; it sells for 150.
  const auto plan = planned(yard_blend("sold", "tonnes: {min: 2, max: 30}\n    price_per_t: 150",
                                       "cheap, dear, filler", "min: 20") +
                            "stock_kg: {cheap: 5000}\n");
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(plan.blends[0].tonnes == Approx(12.5));
  CHECK(*plan.revenue == Approx(12.5 * 150));
  CHECK(plan.cost.value() == Approx(12.5 * 120));
  // A tonne of stock more makes 2.5 t more, 30 each.
  CHECK(plan.shared[0].shadow_price_per_t == Approx(-75));
}

TEST_CASE("a blend that does not pay is not made") {
  const auto plan = planned(yard_blend("dear", "tonnes: {max: 30}\n    price_per_t: 50",
                                       "cheap, dear, filler", "min: 20"));
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(plan.blends[0].tonnes == 0);
  CHECK_FALSE(plan.blends[0].blend);
  CHECK(plan.cost.value() == 0);
}

TEST_CASE("a material that must be taken is taken where that costs least") {
  const auto plan = planned(two_blends("stock_kg: {dear: {min: 1000}}\n"));
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(plan.shared[0].side == RuleSide::min);
  CHECK(plan.shared[0].shadow_price_per_t == Approx(200));
  CHECK(plan.cost.value() == Approx(7 * 300 + 500));
}

TEST_CASE("too little for all is a conflict across blends, each rule of which is needed") {
  const auto plan = planned(yard_blend("first", "tonnes: 10", "cheap, filler", "min: 20") +
                            yard_blend("second", "tonnes: 20", "cheap, filler", "min: 20") +
                            "stock_kg: {cheap: 9000}\n");
  REQUIRE(plan.outcome.status == Status::infeasible);
  CHECK(plan.blends.empty());
  CHECK(plan.irreducible);
  REQUIRE(plan.conflict.size() == 5);
  using Of = SeasonConflictRule::Of;
  CHECK(plan.conflict[0].of == Of::amount);
  CHECK(plan.conflict[0].name == "first");
  CHECK(*plan.conflict[0].rule.ends_below == Approx(2.5));
  CHECK(plan.conflict[1].rule.rule == "grade N min");
  CHECK(plan.conflict[2].name == "second");
  CHECK(*plan.conflict[2].rule.ends_below == Approx(12.5));
  CHECK(plan.conflict[4].of == Of::shared);
  CHECK(plan.conflict[4].rule.rule == "stock cheap");
  CHECK(*plan.conflict[4].rule.ends_above == Approx(12000));
}

TEST_CASE("one by one may leave too little for a later blend that planning together serves") {
  const auto plan = planned(yard_blend("first", "tonnes: 10", "cheap, dear, filler", "min: 20") +
                            yard_blend("second", "tonnes: 10", "cheap, filler", "min: 20") +
                            "stock_kg: {cheap: 5000}\n");
  REQUIRE(plan.outcome.status == Status::optimal);
  REQUIRE(plan.one_by_one);
  CHECK((*plan.one_by_one).status == Status::infeasible);
  CHECK((*plan.one_by_one).blend == 1);
}

TEST_CASE("a blend that contradicts itself is named, and so is every other such blend") {
  const auto plan = planned(yard_blend("first", "tonnes: 10", "cheap, filler", "min: 60") +
                            yard_blend("fine", "tonnes: 10", "cheap, filler", "min: 20") +
                            yard_blend("third", "tonnes: 10", "filler, dear", "min: 55"));
  REQUIRE(plan.outcome.status == Status::infeasible);
  REQUIRE(plan.impossible.size() == 2);
  CHECK(plan.impossible[0].name == "first");
  CHECK(plan.impossible[1].blend == 2);
  CHECK(plan.impossible[1].conflict.rules.front().rule == "grade N min");
}

TEST_CASE("stock is carried over, early use saves storage, and nothing is used before it comes") {
  // 1 t is there in march, 5 t come in april; march wants 4 t, april 4 t. So march takes 1 t of the
  // cheap source and 3 t of the dear one, and april 4 t of the cheap one: 1 t is left over.
  const std::string text =
      yard_blend("early", "period: march\n    tonnes: 10", "cheap, dear, filler", "min: 20") +
      yard_blend("late", "period: april\n    tonnes: 10", "cheap, dear, filler", "min: 20") +
      "periods: [march, april]\nstock_kg: {cheap: 1000}\nsupply_kg: {cheap: {april: 5000}}\n"
      "storage_per_t: {cheap: 6}\n";
  const auto plan = planned(text);
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(plan.cost.value() == Approx(5 * 300 + 3 * 500));
  CHECK(plan.storage_cost.value() == Approx(0).scale(1));
  REQUIRE(plan.shared.size() == 2);
  CHECK(plan.shared[0].period == 0);
  CHECK(plan.shared[0].shadow_price_per_t == Approx(-206));
  CHECK(plan.shared[1].shadow_price_per_t == 0);
}

TEST_SUITE_END();

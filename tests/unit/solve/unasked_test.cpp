#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <string>

#include "unit/scenario/drafts.hpp"

using namespace leastwise;

namespace {

/// A store with cheap micronutrient granules, an order whose coating wants more granules than the
/// exact rates give: the granules would be the cheapest filler.
std::string store_order(const std::string& asked) {
  return "leastwise: 1\n"
         "materials:\n"
         "  urea: {price_per_t: 450}\n"
         "  map: {price_per_t: 690}\n"
         "  mop: {price_per_t: 400}\n"
         "  cuprous-oxide: {price_per_t: 9000}\n"
         "  clay-filler: {price_per_t: 2000}\n"
         "  boron-granule: {price_per_t: 90}\n"
         "  zinc-granule: {price_per_t: 95}\n"
         "rates_kg_per_ha: {N: {exactly: 60}, P2O5: {exactly: 40}, K2O: {exactly: 40}, " +
         asked +
         "}\n"
         "blend: {binder: {material: canola-oil}}\n";
}

double kg_drawn(const Blend& blend, std::string_view material) {
  const auto found = std::ranges::find(blend.portions, material, &Portion::material);
  return found == blend.portions.end() ? 0 : found->kg_per_ha.value_or(found->kg_per_t);
}

double supplied(const Blend& blend, std::string_view nutrient) {
  const auto found = std::ranges::find(blend.supply, nutrient, &Supply::nutrient);
  return found == blend.supply.end() ? 0 : found->kg_per_ha.value_or(0);
}

void check_proved(const Scenario& scenario) {
  const auto proven = formulate_with_proof(scenario);
  REQUIRE_MESSAGE(proven.proof.has_value(), proven.why_no_proof);
  const auto checked = verify(*proven.proof, scenario);
  CHECK_MESSAGE(checked.detail.empty(), checked.detail);
  CHECK(checked.verdict != ProofVerdict::not_proved);
}

}  // namespace

TEST_SUITE("unasked micronutrients") {
  TEST_CASE("no carrier is filler, and the report says why it is out") {
    const auto scenario = parse_scenario(store_order("Cu: {exactly: 4}"));
    const auto answer = formulate(scenario);
    const Blend* const blend = answer.blend();
    REQUIRE(blend != nullptr);
    CHECK(supplied(*blend, "B") == 0);
    CHECK(supplied(*blend, "Zn") == 0);
    CHECK(kg_drawn(*blend, "clay-filler") > 10);
    for (const char* name : {"boron-granule", "zinc-granule"}) {
      const auto found = std::ranges::find(blend->unused, name, &UnusedMaterial::material);
      REQUIRE(found != blend->unused.end());
      CHECK(found->why == "unasked micronutrient");
      CHECK_FALSE(found->enters_below_price_per_t.has_value());
    }
    CHECK(std::ranges::none_of(
        blend->binding, [](const BindingRule& rule) { return rule.id.kind == RuleKind::unasked; }));
    CHECK(to_text(answer).find("No rule asks for a micronutrient they carry") != std::string::npos);
    check_proved(scenario);
  }

  TEST_CASE("a minimum, an exactly, a ratio or a stated share lets a carrier in, a maximum not") {
    const auto is_out = [](const std::string& asked, const std::string& extra = {}) {
      const auto scenario = parse_scenario(store_order(asked) + extra);
      return std::ranges::any_of(scenario.unasked(), [&](const Unasked& unasked) {
        return scenario.materials()[unasked.material].name == "boron-granule";
      });
    };
    CHECK(is_out("Cu: {exactly: 4}"));
    CHECK(is_out("B: {max: 2}"));
    CHECK(is_out("B: {min: 0}"));
    CHECK_FALSE(is_out("B: {min: 0.1}"));
    CHECK_FALSE(is_out("B: {exactly: 0.3}"));
    CHECK(is_out("N-urea: {min: 1}", "ratios: [{of: Zn, to: Cu, min: 1}]\n"));
    CHECK_FALSE(is_out("N-urea: {min: 1}", "ratios: [{of: B, to: N, min: 0.001}]\n"));
    CHECK_FALSE(is_out("N-urea: {min: 1}", "ratios: [{of: N, to: B, max: 1000}]\n"));
    CHECK(is_out("N-urea: {min: 1}", "ratios: [{of: B, to: N, max: 1}]\n"));
  }

  TEST_CASE("a minimum share asks for a material, any share where use names it") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("grain", Form::granule, {{"B", 10}}));
    CHECK(Scenario(draft).unasked().size() == 1);
    draft.materials.back().share_percent = Limits{.max = 2};
    CHECK(Scenario(draft).unasked().size() == 1);
    draft.use = {"white", "grain"};
    CHECK(Scenario(draft).unasked().empty());
    draft.use.reset();
    draft.materials.back().share_percent = Limits{.min = 1, .max = 2};
    CHECK(Scenario(draft).unasked().empty());
    CHECK(Scenario(draft).ceilings().front().kg_per_ha == 6);
  }

  TEST_CASE("a conflict that needs a material kept out names it and what to write") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("grain", Form::granule, {{"Zn", 20}, {"S", 10}}));
    draft.rates_kg_per_ha.push_back({"S", {5}});
    const Scenario scenario(draft);
    const auto answer = formulate(scenario);
    const Conflict* const conflict = answer.conflict();
    REQUIRE(conflict != nullptr);
    CHECK(conflict->irreducible);
    const auto found = std::ranges::find(conflict->rules, "unasked grain", &ConflictingRule::rule);
    REQUIRE(found != conflict->rules.end());
    CHECK(found->detail.find("no rule asks for its Zn") != std::string::npos);
    CHECK(found->id == RuleId{RuleKind::unasked, "grain", {}, RuleSide::none});
    for (const auto& change : conflict->nearest) CHECK(change.id.kind != RuleKind::unasked);
    CHECK(to_text(answer).find("share_percent with a min") != std::string::npos);
    check_proved(scenario);
  }

  TEST_CASE("what comes along is held to a usual rate, what is asked for to the ceiling") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(
        drafts::material("mix", Form::granule, {{"Zn", 10}, {"B", 5}}, 10));  // cheaper than filler
    draft.materials.push_back(drafts::material("zinc", Form::granule, {{"Zn", 20}}, 900));
    draft.rates_kg_per_ha.push_back({"Zn", {4}});
    draft.total_kg_per_ha = Limits{.min = 300};
    draft.materials.push_back(drafts::material("stone", Form::granule, {{"Ca", 30}}, 50));
    const Scenario scenario(draft);
    const auto answer = formulate(scenario);
    REQUIRE(answer.blend() != nullptr);
    CHECK(supplied(*answer.blend(), "B") == doctest::Approx(1.2));
    check_proved(scenario);
    draft.confirm_high_rate = {"B"};
    const auto confirmed = formulate(Scenario(draft));
    REQUIRE(confirmed.blend() != nullptr);
    CHECK(supplied(*confirmed.blend(), "B") > 6);
    draft.confirm_high_rate.clear();
    draft.rates_kg_per_ha.push_back({"B", {0.1}});
    const auto asked = formulate(Scenario(draft));
    REQUIRE(asked.blend() != nullptr);
    CHECK(supplied(*asked.blend(), "B") == doctest::Approx(6));
  }

  TEST_CASE("a ceiling in a conflict names the key that lifts it") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("mix", Form::granule, {{"Zn", 10}, {"B", 10}}));
    draft.rates_kg_per_ha.push_back({"Zn", {2}});
    const auto answer = formulate(Scenario(draft));
    REQUIRE(answer.conflict() != nullptr);
    CHECK(to_text(answer).find("confirm_high_rate: [B] under blend") != std::string::npos);
    draft.confirm_high_rate = {"B"};
    CHECK(formulate(Scenario(draft)).blend() != nullptr);
  }

  TEST_CASE("a conflict made by the granular factor says so and names its key") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("grain", Form::granule, {{"Zn", 20}}));
    draft.materials.back().micronutrient_granule = true;
    draft.rates_kg_per_ha.push_back({"Zn", {1, 1}});
    const auto answer = formulate(Scenario(draft));
    REQUIRE(answer.conflict() != nullptr);
    const auto& notes = answer.conflict()->notes;
    const auto note = std::ranges::find(notes, NoteCode::granular_factor, &Note::code);
    REQUIRE(note != notes.end());
    CHECK(note->subjects == std::vector<std::string>{"Zn", "grain"});
    CHECK(note->text.find("granular_micronutrient_factor") != std::string::npos);
    CHECK(note->text.find("ask for min") != std::string::npos);
    draft.granular_micronutrient_factors = {{"Zn", 1}};
    CHECK(formulate(Scenario(draft)).blend() != nullptr);
  }
}

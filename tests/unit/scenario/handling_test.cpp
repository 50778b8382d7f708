#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>

#include "unit/scenario/drafts.hpp"
#include "unit/scenario/proved_blend.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

bool uses(const Blend& blend, std::string_view name) {
  return std::ranges::find(blend.portions, name, &Portion::material) != blend.portions.end();
}

bool tells(const Scenario& scenario, NoteCode code, const std::string& subject) {
  return std::ranges::any_of(scenario.notes(), [&](const Note& note) {
    return note.code == code && std::ranges::find(note.subjects, subject) != note.subjects.end();
  });
}

/// Ammonium sulfate is the cheap nitrogen, prilled urea the next, granular urea the dear one.
ScenarioDraft nitrogen_and_potash() {
  ScenarioDraft draft;
  draft.materials = {drafts::built_in("ammonium-sulfate", 150),
                     drafts::built_in("urea-prilled", 400), drafts::built_in("urea", 455),
                     drafts::built_in("mop", 300), drafts::built_in("sop", 900)};
  draft.grade_percent = {{"N", {.min = 10}}, {"K2O", {.min = 10}}};
  return draft;
}

}  // namespace

TEST_SUITE("sizes and humidity") {
  // Size guide numbers 170 (prilled urea), 250, 280, 285 and 300 of the catalogue.
  TEST_CASE("granules outside of the stated sizes stay out") {
    ScenarioDraft draft = nitrogen_and_potash();
    draft.grade_percent[0].limits.min = 30;
    CHECK(uses(proved_blend(draft), "urea-prilled"));
    draft.sgn = Limits{.min = 240};
    const Blend blend = proved_blend(draft);
    CHECK_FALSE(uses(blend, "urea-prilled"));
    CHECK(uses(blend, "urea"));
    REQUIRE(blend.indices);
    CHECK(*blend.indices->least_sgn >= 240);
    CHECK(tells(Scenario(draft), NoteCode::left_out_by_size, "urea-prilled"));
    draft.sgn = Limits{.max = 260};
    const Formulation none = formulate(Scenario(draft));
    REQUIRE(none.conflict() != nullptr);
    CHECK(std::ranges::any_of(none.conflict()->rules, [](const ConflictingRule& rule) {
      return rule.rule == "without mop" || rule.rule == "without sop";
    }));
  }

  TEST_CASE("a granule without a size is an error where sizes are limited; powders have none") {
    ScenarioDraft draft = nitrogen_and_potash();
    draft.sgn = Limits{.min = 240};
    draft.materials.push_back(
        drafts::material("own", Form::granule, {{"N", 20}, {"N-ammonium", 20}}));
    draft.materials.push_back(drafts::built_in("gypsum-powder"));
    CHECK(drafts::errors_of(draft) == std::vector<std::string>{"blend.sgn: no-figure"});
    draft.materials[5].sgn = 280;
    CHECK(drafts::errors_of(draft).empty());
    draft.sgn = Limits{.min = 300, .max = 240};
    CHECK(drafts::errors_of(draft) == std::vector<std::string>{"blend.sgn.min: min-over-max"});
  }

  // Published at 30 C (Adams and Merz 1929): ammonium sulfate with potassium chloride 71.3 %, urea
  // with potassium chloride 60.3, urea with ammonium sulfate 56.4; urea 72.5 alone.
  TEST_CASE("pairs that draw water below the stated humidity are kept apart") {
    ScenarioDraft draft = nitrogen_and_potash();
    draft.grade_percent[0].limits.min = 24;  // sulfate alone holds 21: urea must be in
    draft.dry_up_to_humidity_percent = 55;
    CHECK(*proved_blend(draft).indices->humidity.percent == Approx(56.4));
    draft.dry_up_to_humidity_percent = 62;
    const Blend dry = proved_blend(draft);
    CHECK_FALSE(uses(dry, "mop"));
    CHECK(uses(dry, "sop"));
    CHECK(*dry.indices->humidity.percent == Approx(71.5));  // urea with potassium sulfate
    CHECK_FALSE(dry.exclusions.empty());
    draft.dry_up_to_humidity_percent = 80;  // urea by itself draws water at 72.5
    CHECK(tells(Scenario(draft), NoteCode::left_out_by_humidity, "urea"));
    CHECK(formulate(Scenario(draft)).conflict() != nullptr);
    draft.dry_up_to_humidity_percent = 101;
    CHECK(drafts::errors_of(draft) ==
          std::vector<std::string>{"blend.dry_up_to_humidity_percent: out-of-range"});
  }

  TEST_CASE("what the tables do not have is said, and lifts nothing") {
    ScenarioDraft draft = nitrogen_and_potash();
    draft.materials.push_back(drafts::built_in("kieserite"));
    draft.dry_up_to_humidity_percent = 60;
    CHECK(tells(Scenario(draft), NoteCode::humidity_unknown, "kieserite"));
    // A lifted compatibility rule does not make a pair dry.
    draft.compatible = {{"potassium-chloride", "urea"}};
    draft.dry_up_to_humidity_percent = 62;
    const Scenario scenario(draft);
    CHECK(std::ranges::any_of(scenario.exclusions(), [](const Exclusion& pair) {
      return pair.family_a == "potassium-chloride" && pair.family_b == "urea" &&
             pair.path == "blend.dry_up_to_humidity_percent";
    }));
  }
}

TEST_SUITE("indices of a blend") {
  // Half urea, half potassium chloride: salt index (74.4 + 116.2) / 2, acid 84 / 2, sizes 300 and
  // 285; volumes 1/780 and 1/1080 m3 per kg add up.
  TEST_CASE("each figure is the mean that its kind asks for, with the share it covers") {
    ScenarioDraft draft;
    draft.indices = true;
    draft.materials = {drafts::built_in("urea"), drafts::built_in("mop"),
                       drafts::built_in("kieserite")};
    draft.rates_kg_per_ha = {{"N", {.min = 46}}};
    draft.materials[0].share_percent = Limits{40, 40};
    draft.materials[1].share_percent = Limits{40, 40};
    const Blend blend = *formulate(Scenario(draft)).blend();
    REQUIRE(blend.indices);
    const BlendIndices& indices = *blend.indices;
    CHECK(*indices.salt_index.value == Approx(0.4 * (74.4 + 116.2)));
    CHECK(indices.salt_index.known_percent == Approx(80));
    CHECK(indices.salt_index.unknown == std::vector<std::string>{"kieserite"});
    CHECK(*indices.lime_need.value == Approx(0.4 * 84));
    CHECK(indices.lime_need.known_percent == Approx(100));
    CHECK(*indices.lime_need_kg_per_ha == Approx(84));  // 100 kg of urea
    CHECK(*indices.bulk_density_kg_per_m3.value ==
          Approx(1 / (0.4 / 780 + 0.4 / 1080 + 0.2 / 1300)));
    CHECK(*indices.sgn.value == Approx(0.4 * 300 + 0.4 * 285 + 0.2 * 310));
    CHECK(*indices.least_sgn == 285);
    CHECK(*indices.most_sgn == 310);
    CHECK(*indices.ui.value == Approx(0.4 * 50 + 0.4 * 42 + 0.2 * 48));
    CHECK(*indices.humidity.percent == Approx(60.3));
    CHECK(indices.humidity.is_pair);
    CHECK(indices.humidity.unknown == std::vector<std::string>{"kieserite"});
    const std::string page = to_text(Formulation(blend));
    CHECK(page.find("How it acts and handles") != std::string::npos);
    draft.indices = false;
    CHECK_FALSE(formulate(Scenario(draft)).blend()->indices);
  }
}

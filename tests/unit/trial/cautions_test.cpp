#include "trial/cautions.hpp"

#include <leastwise/formula.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/toxic_element.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "report/words/safety.hpp"
#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

/// What code acts on: which hazards, and how many subjects each has; no words.
using Marks = std::multiset<std::pair<NoteCode, std::size_t>>;

Marks marks_of(const std::vector<Note>& notes) {
  Marks marks;
  for (const auto& note : notes) marks.emplace(note.code, note.subjects.size());
  return marks;
}

bool carries(const std::vector<Note>& notes, NoteCode code) {
  return std::ranges::find(notes, code, &Note::code) != notes.end();
}

MaterialDraft made_of(std::string name, Form form, std::string family,
                      std::vector<Content> contents) {
  MaterialDraft draft;
  draft.name = std::move(name);
  draft.form = form;
  draft.family = std::move(family);
  draft.contains_percent = std::move(contents);
  draft.price_per_t = 100;
  return draft;
}

/// A fixed recipe of `materials`: 100 kg/ha of each granule, 2 of each powder.
TreatmentDraft recipe_of(std::vector<MaterialDraft> materials, ScenarioDraft draft = {}) {
  TreatmentDraft treatment;
  treatment.name = "mix";
  for (const auto& m : materials) {
    treatment.recipe_kg_per_ha.push_back({m.name, m.form == Form::powder ? 2.0 : 100.0});
  }
  draft.materials = std::move(materials);
  Limits anything;
  anything.max = 100;
  draft.grade_percent = {{"N", anything}};
  draft.binder = BinderDraft{"water", {}, {}, {}};
  draft.coating_percent.emplace().max = 10;
  treatment.scenario = Scenario(draft);
  return treatment;
}

TreatmentPlan planned_mix(const TreatmentDraft& treatment) {
  return plan_trial(Trial(small_trial({treatment}))).treatments.front();
}

/// An oxidizer and a salt that must not be kept with it, a granule with boron, a powder of copper.
std::vector<MaterialDraft> hazardous_mix(const std::array<std::string, 4>& names) {
  return {made_of(names[0], Form::granule, "potassium-nitrate",
                  {{"N", 13}, {"N-nitrate", 13}, {"K2O", 46}}),
          made_of(names[1], Form::granule, "ammonium-sulfate", {{"N", 21}, {"S", 24}}),
          made_of(names[2], Form::granule, "filler", {{"B", 0.5}}),
          made_of(names[3], Form::powder, "zinc-oxide", {{"Zn", 70}, {"Cu", 1}})};
}

const std::array<std::string, 4> plain_names{"one", "two", "three", "four"};
const std::vector<std::array<std::string, 4>> odd_names{
    {"limited compatibility", "boron", "copper is toxic", "oxidizer"},
    {"a / b", "c: d", "e per f", "g, h; i"},
    {"must not be kept", "boron and copper", "caution: none", "respirator"},
    {"rate N min", "total max", "x min", "stop: y"},
};

}  // namespace

TEST_SUITE("hazards of a load") {
  TEST_CASE("names change no caution of a sheet: hazards follow from contents") {
    const TreatmentPlan expected = planned_mix(recipe_of(hazardous_mix(plain_names)));
    REQUIRE(carries(expected.cautions, NoteCode::oxidizer));
    REQUIRE(carries(expected.cautions, NoteCode::dust));
    REQUIRE(carries(expected.stop_conditions, NoteCode::must_not_be_kept));
    for (const auto& names : odd_names) {
      CAPTURE(names.front());
      const TreatmentPlan plan = planned_mix(recipe_of(hazardous_mix(names)));
      CHECK(marks_of(plan.cautions) == marks_of(expected.cautions));
      CHECK(marks_of(plan.hazards) == marks_of(expected.hazards));
      CHECK(marks_of(plan.stop_conditions) == marks_of(expected.stop_conditions));
      CHECK(marks_of(plan.notes) == marks_of(expected.notes));
      CHECK(plan.same_day);
      for (std::size_t i = 0; i < plan.hazards.size(); ++i) {
        CHECK(plan.hazards[i].text == expected.hazards[i].text);
      }
    }
  }

  TEST_CASE("names change no caution of a blend, nor its safety lines") {
    const auto lines = [](const std::array<std::string, 4>& names) {
      ScenarioDraft draft;
      draft.materials = hazardous_mix(names);
      for (auto& m : draft.materials) {
        m.share_percent.emplace().min = m.form == Form::powder ? 0.5 : 20;
      }
      Limits some;
      some.max = 100;
      draft.grade_percent = {{"N", some}};
      draft.binder = BinderDraft{"water", {}, {}, {}};
      const Formulation answer = formulate(Scenario(draft));
      REQUIRE(answer.blend() != nullptr);
      const Blend& blend = *answer.blend();
      return std::pair(marks_of(blend.notes),
                       report::safety_lines(blend.portions, blend.supply, blend.notes));
    };
    const auto expected = lines(plain_names);
    for (const auto& names : odd_names) {
      CAPTURE(names.front());
      CHECK(lines(names) == expected);
    }
  }

  TEST_CASE("each toxic element of a load is named, on the sheet and on the label") {
    for (const auto& element : toxic_elements()) {
      CAPTURE(std::string(element.name));
      const TreatmentPlan plan = planned_mix(recipe_of(
          {made_of("base", Form::granule, "filler", {{"N", 1}}),
           made_of("speck", Form::powder, "filler", {{std::string(element.symbol), 0.5}})}));
      const auto caution = std::ranges::find(plan.cautions, NoteCode::toxic_element, &Note::code);
      REQUIRE(caution != plan.cautions.end());
      CHECK(caution->subjects == std::vector<std::string>{std::string(element.symbol)});
      REQUIRE(!plan.hazards.empty());
      CHECK(plan.hazards.front().text == "TOXIC: " + std::string(element.name));
    }
  }

  TEST_CASE("a load without powder, nitrate or toxic element has no hazard but its mixer") {
    const TreatmentPlan plan =
        planned_mix(recipe_of({made_of("a", Form::granule, "filler", {{"N", 1}}),
                               made_of("b", Form::granule, "potassium-sulfate", {{"K2O", 50}})}));
    CHECK(plan.hazards.empty());
    CHECK(marks_of(plan.cautions) == Marks{{NoteCode::mixer_at_work, 1}});
    CHECK(!plan.same_day);
  }

  TEST_CASE("labels carry hazards, batch, load and the day to spread by") {
    TrialDraft draft = small_trial({recipe_of(hazardous_mix(plain_names))});
    draft.mixers = {{"bucket", MixerKind::bucket, 2, {}}};
    const std::string html = to_html(plan_trial(Trial(draft)));
    const auto labels = html.substr(html.find("class=\"labels\""));
    for (const auto* words :
         {"OXIDIZER: no oil, no fire", "TOXIC: boron, copper", "DUST: wear a respirator",
          "Batch ST-T1-B1", ", load 1 of 2.", "SPREAD BY ____________ (same day as mixed)",
          "Fertilizer of one, two, three, four, water."}) {
      CAPTURE(words);
      CHECK(labels.find(words) != std::string::npos);
    }
    draft.mixed_on = "2026-02-28";
    const TrialPlan dated = plan_trial(Trial(draft));
    CHECK(dated.treatments.front().spread_by == "2026-02-28");
    CHECK(to_html(dated).find("SPREAD BY 2026-02-28 (same day as mixed)") != std::string::npos);
    CHECK(
        to_csv(dated, PlanList::plots)
            .find("OXIDIZER: no oil, no fire; TOXIC: boron, copper; SPREAD THE DAY IT IS MIXED") !=
        std::string::npos);
  }

  TEST_CASE("a mix that keeps is to be spread within four weeks of its day, across a leap day") {
    TrialDraft draft = small_trial({recipe(100, 0)});
    draft.mixed_on = "2028-02-20";
    CHECK(plan_trial(Trial(draft)).treatments.front().spread_by == "2028-03-19");
    for (const auto* wrong :
         {"2026-02-29", "26-02-01", "2026-13-01", "2026/02/01", "tomorrow", "2026-02-1x"}) {
      CAPTURE(wrong);
      draft.mixed_on = wrong;
      CHECK_THROWS_AS(Trial{draft}, InputError);
    }
  }
}

TEST_SUITE("rules that a scenario lifts") {
  /// Urea drives crystal water out of triple superphosphate: kept apart by the built-in table.
  TreatmentPlan urea_with_phosphate(Compatibility stated) {
    ScenarioDraft scenario;
    std::pair<std::string, std::string> pair{"urea", "triple-superphosphate"};
    if (stated == Compatibility::compatible) scenario.compatible = {pair};
    if (stated == Compatibility::limited) scenario.limited = {pair};
    return planned_mix(
        recipe_of({made_of("u", Form::granule, "urea", {{"N", 46}}),
                   made_of("t", Form::granule, "triple-superphosphate", {{"P2O5", 46}}),
                   made_of("z", Form::powder, "zinc-oxide", {{"Zn", 70}})},
                  scenario));
  }

  TEST_CASE("they stand first on the sheet of the batch, and that batch is not kept") {
    for (const auto stated : {Compatibility::compatible, Compatibility::limited}) {
      const TreatmentPlan plan = urea_with_phosphate(stated);
      REQUIRE(!plan.stop_conditions.empty());
      const Note& first = plan.stop_conditions.front();
      CHECK(first.code == NoteCode::rule_lifted);
      CHECK(first.level == NoteLevel::warning);
      CHECK(first.subjects == std::vector<std::string>{"triple-superphosphate", "urea"});
      CHECK(carries(plan.stop_conditions, NoteCode::must_not_be_kept));
      CHECK(!carries(plan.notes, NoteCode::rule_lifted));  // said where the hands are
      CHECK(plan.same_day);
    }
  }

  TEST_CASE("two batches with the same lifted rule both say so") {
    TreatmentDraft again =
        recipe_of({made_of("u", Form::granule, "urea", {{"N", 46}}),
                   made_of("t", Form::granule, "triple-superphosphate", {{"P2O5", 46}})},
                  [] {
                    ScenarioDraft scenario;
                    scenario.compatible = {{"urea", "triple-superphosphate"}};
                    return scenario;
                  }());
    TreatmentDraft other = again;
    other.name = "other";
    const TrialPlan plan = plan_trial(Trial(small_trial({again, other})));
    for (const auto& treatment : plan.treatments) {
      CHECK(treatment.stop_conditions.front().code == NoteCode::rule_lifted);
    }
  }

  TEST_CASE("a limited pair that the scenario calls compatible is a caution, not a stop") {
    ScenarioDraft scenario;
    scenario.compatible = {{"urea", "ammonium-sulfate"}};
    const TreatmentPlan plan =
        planned_mix(recipe_of({made_of("u", Form::granule, "urea", {{"N", 46}}),
                               made_of("s", Form::granule, "ammonium-sulfate", {{"N", 21}})},
                              scenario));
    CHECK(plan.stop_conditions.front().code == NoteCode::rule_lifted);
    CHECK(plan.stop_conditions.front().level == NoteLevel::caution);
    CHECK(!plan.same_day);
  }
}

#include "trial/stop_conditions.hpp"

#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include "chemistry/materials/critical_humidity.hpp"
#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

bool says(const std::vector<Note>& notes, std::string_view words) {
  return std::any_of(notes.begin(), notes.end(), [words](const Note& note) {
    return note.text.find(words) != std::string::npos;
  });
}

/// Stop conditions of a fixed recipe of equal masses of `materials`.
std::vector<Note> conditions(std::vector<MaterialDraft> materials) {
  ScenarioDraft draft;
  TreatmentDraft treatment;
  treatment.name = "mix";
  for (auto& material : materials) {
    material.price_per_t = 100;
    treatment.recipe_kg_per_ha.push_back(
        {material.name, material.ground.value_or(false) ? 2.0 : 100.0});
  }
  draft.materials = std::move(materials);
  Limits anything;
  anything.max = 100;
  draft.grade_percent = {{"N", anything}};
  draft.binder = BinderDraft{"water", {}, {}, {}};
  draft.coating_percent.emplace().max = 10;
  treatment.scenario = Scenario(draft);
  return plan_trial(Trial(small_trial({treatment}))).treatments.front().stop_conditions;
}

MaterialDraft built_in(std::string name) {
  MaterialDraft material;
  material.name = std::move(name);
  return material;
}

MaterialDraft sized(std::string name, double sgn) {
  MaterialDraft material = built_in(std::move(name));
  material.form = Form::granule;
  material.contains_percent = {{"N", 10}};
  material.sgn = sgn;
  return material;
}

/// A product by the tonne with 3 % boron, spread at a rate.
TreatmentDraft boron_product(double kg_per_ha, std::vector<std::string> confirmed = {}) {
  ScenarioDraft draft;
  for (const char* name : {"urea", "mop", "boron-granule"}) {
    MaterialDraft material;
    material.name = name;
    material.price_per_t = 100;
    draft.materials.push_back(material);
  }
  TargetDraft nitrogen{"N", {}};
  nitrogen.limits.min = 10;
  TargetDraft boron{"B", {}};
  boron.limits.min = 3;
  draft.grade_percent = {nitrogen, boron};
  draft.confirm_high_rate = std::move(confirmed);
  TreatmentDraft treatment;
  treatment.name = "product";
  treatment.scenario = Scenario(draft);
  treatment.product_kg_per_ha = kg_per_ha;
  return treatment;
}

}  // namespace

TEST_SUITE("rates of products by the tonne") {
  TEST_CASE("beyond a ceiling no sheet is written, and the key is named") {
    try {
      const Trial trial(small_trial({boron_product(400)}));
      FAIL("was accepted");
    } catch (const InputError& error) {
      const Diagnostic& first = error.diagnostics().front();
      CHECK(first.code == "high-rate");
      CHECK(first.path == "treatments.product.product_kg_per_ha");
      CHECK(first.message.find("12 kg of boron per hectare") != std::string::npos);
      CHECK(first.message.find("confirm_high_rate: [B]") != std::string::npos);
    }
  }

  TEST_CASE("a confirmed rate, and one above what is usual, stand before weighing") {
    for (const auto& treatment : {boron_product(400, {"B"}), boron_product(150)}) {
      const TreatmentPlan plan = plan_trial(Trial(small_trial({treatment}))).treatments.front();
      REQUIRE(plan.state == TreatmentState::planned);
      REQUIRE(!plan.stop_conditions.empty());
      CHECK(plan.stop_conditions.front().code == NoteCode::rate_above_usual);
      CHECK(plan.stop_conditions.front().level == NoteLevel::warning);
    }
  }
}

TEST_SUITE("warnings on the sheet") {
  TEST_CASE("a coating that falls off and a mass that the balance rounds stand before weighing") {
    const TreatmentPlan heavy =
        plan_trial(Trial(small_trial({recipe(100, 20)}))).treatments.front();
    const auto has = [](const std::vector<Note>& notes, NoteCode code) {
      return std::ranges::find(notes, code, &Note::code) != notes.end();
    };
    CHECK(has(heavy.stop_conditions, NoteCode::coating_over_limit));
    TrialDraft coarse = small_trial({recipe(100, 0.2)});
    for (auto& balance : coarse.balances) balance.readability_g = 1;
    const TreatmentPlan rounded = plan_trial(Trial(coarse)).treatments.front();
    CHECK((has(rounded.stop_conditions, NoteCode::rounding_shift) ||
           has(rounded.stop_conditions, NoteCode::no_binder_weighed)));
  }
}

TEST_SUITE("stop conditions") {
  TEST_CASE("the published humidity of a pair is used, not the lower of the two salts") {
    // Critical relative humidity at 30 C, classical table (Adams and Merz 1929): urea 72.5,
    // ammonium nitrate 59.4, together 18.1.
    const auto advice = critical_humidity({"urea", "ammonium-nitrate"});
    REQUIRE(advice);
    CHECK(advice->percent == doctest::Approx(18.1));
    CHECK(advice->is_pair);
    const auto alone = critical_humidity({"urea", "zinc-oxide"});
    REQUIRE(alone);
    CHECK(alone->percent == doctest::Approx(72.5));
    CHECK(!alone->is_pair);
    CHECK(!critical_humidity({"zinc-oxide", "filler"}));
  }

  TEST_CASE("three salts are as bad as their worst pair") {
    const auto advice = critical_humidity({"potassium-chloride", "urea", "ammonium-sulfate"});
    REQUIRE(advice);
    CHECK(advice->percent == doctest::Approx(56.4));  // urea with ammonium sulfate, same table
  }

  TEST_CASE("a mixture without a published pair is said to lie below its weakest salt") {
    CHECK(says(conditions({built_in("urea"), built_in("clay-filler")}),
               "mixtures draw water earlier than the salt by itself"));
  }

  TEST_CASE("sizes within 10 % of the mean pass, to 20 % caution, beyond they stop the work") {
    CHECK(!says(conditions({sized("a", 300), sized("b", 310)}), "differ from"));
    CHECK(says(conditions({sized("a", 300), sized("b", 350)}), "handle gently"));
    const auto poor = conditions({sized("a", 200), sized("b", 320)});
    CHECK(says(poor, "'b' (SGN 320) and 'a' (SGN 200) by 46 %"));
    CHECK(poor.front().level == NoteLevel::warning);
  }

  TEST_CASE("a crystal that enters as a powder must be ground first") {
    MaterialDraft crystal = built_in("zinc-sulfate-heptahydrate");
    crystal.ground = true;
    CHECK(says(conditions({built_in("map"), crystal}), "must be ground to a fine powder"));
  }

  TEST_CASE("a limited pair may be mixed and spread but not kept") {
    // Urea with potassium chloride draws water from 60.3 % humidity: limited in the built-in table.
    CHECK(says(conditions({built_in("urea"), built_in("mop")}), "on the same day"));
    CHECK(says(conditions({built_in("map"), built_in("sop")}), "about four weeks"));
  }
}

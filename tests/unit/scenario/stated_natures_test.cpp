#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <string>

using namespace leastwise;

namespace {

std::string stated_text(const std::string& materials, const std::string& rest = {}) {
  return "leastwise: 1\nmaterials:\n" + materials +
         "grade_percent: {N: {max: 60}}\nblend: {binder: {material: water}}\n" + rest;
}

/// The code of the first error; empty when there is none.
std::string error_of(const std::string& text) {
  try {
    static_cast<void>(parse_scenario(text));
    return {};
  } catch (const InputError& error) {
    return error.diagnostics().front().code;
  }
}

const Note* note_of(const Scenario& scenario, NoteCode code) {
  const auto notes = scenario.notes();
  const auto found = std::ranges::find(notes, code, &Note::code);
  return found == notes.end() ? nullptr : &*found;
}

const std::string nitrate = "  ammonium-nitrate: {price_per_t: 300, share_percent: {min: 10}}\n";

}  // namespace

TEST_SUITE("what a statement may settle") {
  TEST_CASE("a family without so much nitrogen contradicts the contents, with forms or without") {
    for (const char* family : {"filler", "gypsum", "limestone", "potassium-chloride", "borates"}) {
      for (const char* contents :
           {"N: 34", "N: 34, N-ammonium: 17", "N: 18, P2O5: 46", "N: 10, N-ammonium: 10"}) {
        CAPTURE(family);
        CAPTURE(contents);
        CHECK(error_of(stated_text("  x: {form: granule, family: " + std::string(family) +
                                     ", contains_percent: {" + contents +
                                     "}, price_per_t: 9}\n")) == "family-contradicts");
      }
    }
    CHECK(error_of(stated_text("  x: {form: granule, family: filler, contains_percent: {N: 1}, "
                                 "price_per_t: 9}\n")) == "");
    CHECK(error_of(stated_text("  x: {form: granule, family: ammonium-sulfate, contains_percent: "
                                 "{N: 21, S: 24}, price_per_t: 9}\n")) == "");
  }

  TEST_CASE("beside an oxidizer a family that nothing bears out is told on every report") {
    const Scenario stated =
        parse_scenario(stated_text(
            nitrate + "  stuff: {form: granule, family: filler, contains_percent: {K2O: 1}, "
                      "price_per_t: 9}\n"));
    const Note* note = note_of(stated, NoteCode::nature_stated);
    REQUIRE(note != nullptr);
    CHECK(note->level == NoteLevel::warning);
    CHECK(note->subjects == std::vector<std::string>{"stuff"});
    CHECK(to_json(formulate(stated)).find("\"nature-stated\"") != std::string::npos);
    CHECK(note_of(parse_scenario(stated_text(nitrate +
                                               "  sand: {form: granule, family: filler, "
                                               "contains_percent: {SiO2: 90}, price_per_t: 9}\n"
                                               "  mop: {price_per_t: 90}\n")),
                  NoteCode::nature_stated) == nullptr);
    CHECK(note_of(parse_scenario(stated_text("  mop: {price_per_t: 90}\n"
                                               "  stuff: {form: granule, family: filler, "
                                               "contains_percent: {K2O: 1}, price_per_t: 9}\n")),
                  NoteCode::nature_stated) == nullptr);
  }
}

TEST_SUITE("ways to lift a rule") {
  std::string lifted_by(const Scenario& scenario) {
    REQUIRE(scenario.exclusions().size() == 1);
    return scenario.exclusions().front().lifted_by;
  }

  TEST_CASE("a refusal names the key that lifts it, or says that nothing does") {
    const std::string pair =
        "  calcium-ammonium-nitrate: {price_per_t: 300}\n"
        "  tsp: {price_per_t: 90}\n";
    CHECK(lifted_by(parse_scenario(stated_text(pair))) ==
          "compatible: [[calcium-ammonium-nitrate, triple-superphosphate]] under compatibility");
    CHECK(lifted_by(parse_scenario(
              stated_text(nitrate + "  sulfur-bentonite: {price_per_t: 9}\n"))) == "");
    CHECK(lifted_by(parse_scenario(
              "leastwise: 1\nmaterials:\n  urea: {price_per_t: 9}\n  mop: {price_per_t: 9}\n"
              "grade_percent: {N: {min: 1}}\nblend: {limited_compatibility: forbid}\n")) ==
          "limited_compatibility: allow under blend");
    CHECK(lifted_by(
              parse_scenario(stated_text("  urea: {price_per_t: 9}\n  sop: {price_per_t: 9}\n",
                                           "compatibility: {incompatible: [[urea, sop]]}\n"))) ==
          "taking the pair out of incompatible under compatibility");
  }

  TEST_CASE("what lifts a rule lifts it, and the conflict names it") {
    const std::string order =
        "leastwise: 1\nmaterials:\n"
        "  calcium-ammonium-nitrate: {price_per_t: 300, share_percent: {min: 40}}\n"
        "  tsp: {price_per_t: 90, share_percent: {min: 20}}\n"
        "grade_percent: {N: {min: 1}}\n";
    const Formulation refused = formulate(parse_scenario(order));
    REQUIRE(refused.conflict() != nullptr);
    CHECK(to_text(refused).find("ompatible: [[calcium-ammonium-nitrate,") != std::string::npos);
    CHECK(
        formulate(parse_scenario(order + "compatibility: {compatible: "
                                         "[[calcium-ammonium-nitrate, triple-superphosphate]]}\n"))
            .blend() != nullptr);
    const Formulation fire =
        formulate(parse_scenario(stated_text(nitrate + "  sulfur-bentonite: {price_per_t: 9, "
                                                         "share_percent: {min: 5}}\n")));
    REQUIRE(fire.conflict() != nullptr);
    CHECK(to_text(fire).find("othing lifts this") != std::string::npos);
  }

  TEST_CASE("what a pair costs carries its source, and the key in JSON and text") {
    const Formulation answer = formulate(parse_scenario(
        "leastwise: 1\nmaterials:\n  urea: {price_per_t: 100}\n  tsp: {price_per_t: 90}\n"
        "  map: {price_per_t: 900}\ngrade_percent: {N: {min: 10}, P2O5: {min: 10}}\n"));
    REQUIRE(answer.blend() != nullptr);
    REQUIRE(answer.blend()->exclusions.size() == 1);
    const ExclusionCost& cost = answer.blend()->exclusions.front();
    CHECK(cost.source == "IPNI Southeast Asia, Fertilizer Compatibility and Storage (2013)");
    CHECK(cost.lifted_by == "compatible: [[triple-superphosphate, urea]] under compatibility");
    CHECK(to_json(answer).find("\"lifted_by\": \"compatible: [[triple-superphosphate, urea]]") !=
          std::string::npos);
  }

  TEST_CASE("a caution whose rule is from memory says so in JSON") {
    const Formulation answer = formulate(parse_scenario(
        "leastwise: 1\nmaterials:\n  urea: {price_per_t: 100}\n  gypsum: {price_per_t: 9}\n"
        "grade_percent: {N: {min: 10}, S: {min: 5}}\n"));
    REQUIRE(answer.blend() != nullptr);
    const auto& notes = answer.blend()->notes;
    const auto found = std::ranges::find(notes, NoteCode::limited_compatibility, &Note::code);
    REQUIRE(found != notes.end());
    CHECK(found->source == "from memory");
    CHECK(to_json(answer).find("\"source\": \"from memory\"") != std::string::npos);
  }
}

TEST_SUITE("ceilings of a product whose rate is known") {
  ScenarioDraft boron(double asked_percent) {
    return parse_scenario(
               "leastwise: 1\nmaterials:\n  urea: {price_per_t: 400}\n"
               "  boron-granule: {price_per_t: 90}\n  mop: {price_per_t: 300}\n"
               "grade_percent: {N: {min: 10}, B: {min: " +
               std::to_string(asked_percent) + "}}\n")
        .draft();
  }

  TEST_CASE("a minimum grade above the ceiling is an error that names the key") {
    ScenarioDraft draft = boron(3);
    CHECK_NOTHROW(Scenario{draft});
    draft.product_kg_per_ha = 400;  // 12 kg of B per hectare
    try {
      const Scenario scenario(draft);
      FAIL("was accepted");
    } catch (const InputError& error) {
      CHECK(error.diagnostics().front().code == "high-rate");
      CHECK(error.diagnostics().front().message.find("confirm_high_rate: [B]") !=
            std::string::npos);
    }
    draft.confirm_high_rate = {"B"};
    CHECK(formulate(Scenario(draft)).blend() != nullptr);
  }

  TEST_CASE("a cheap granule fills up to the ceiling and no further, proved") {
    ScenarioDraft draft = boron(0.2);
    draft.product_kg_per_ha = 400;
    const Scenario scenario(draft);
    const auto proven = formulate_with_proof(scenario);
    REQUIRE(proven.answer.blend() != nullptr);
    const auto& supply = proven.answer.blend()->supply;
    const auto found = std::ranges::find(supply, "B", &Supply::nutrient);
    // 6 kg/ha in 400 kg/ha of product are 1.5 %.
    CHECK(found->percent == doctest::Approx(1.5));
    REQUIRE_MESSAGE(proven.proof.has_value(), proven.why_no_proof);
    CHECK(verify(*proven.proof, scenario).verdict != ProofVerdict::not_proved);
    const auto& binding = proven.answer.blend()->binding;
    CHECK(std::ranges::find(binding, "ceiling B", &BindingRule::rule) != binding.end());
  }
}

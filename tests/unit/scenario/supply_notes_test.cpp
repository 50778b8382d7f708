#include "scenario/supply_notes.hpp"

#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "unit/scenario/drafts.hpp"

using namespace leastwise;
using drafts::errors_of;

namespace {

/// Urea, a granule with 10 % of `element` and a powder with 50 % of it.
ScenarioDraft with_element(const std::string& element) {
  auto draft = drafts::nitrogen();
  draft.materials.push_back(drafts::material("grain", Form::granule, {{element, 10}}));
  draft.materials.push_back(drafts::material("dust", Form::powder, {{element, 50}}));
  return draft;
}

std::string note_text(const std::vector<Note>& notes, NoteCode code) {
  const auto found = std::ranges::find(notes, code, &Note::code);
  return found == notes.end() ? std::string() : found->text;
}

bool speaks_of(const std::string& text, std::string_view words) {
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_SUITE("rates of micronutrients") {
  TEST_CASE("a rate is held against what is usual for the way it comes") {
    const Scenario scenario(with_element("B"));
    const auto coated = notes_on_rates(scenario, {100, 0, 2});  // 1 kg as powder
    REQUIRE(coated.size() == 1);
    CHECK(coated[0].level == NoteLevel::warning);
    CHECK(coated[0].code == NoteCode::rate_above_usual);
    CHECK(coated[0].subjects == std::vector<std::string>{"B", "dust"});
    CHECK(speaks_of(coated[0].text, "B 1 kg/ha"));
    CHECK(speaks_of(coated[0].text, "0.2 to 0.4 kg/ha as a coating"));
    CHECK_FALSE(speaks_of(coated[0].text, "largest"));
    CHECK(notes_on_rates(scenario, {100, 10, 0}).empty());   // the same in granules
    CHECK(notes_on_rates(scenario, {100, 0, 0.6}).empty());  // 0.3 kg as powder
    CHECK(notes_on_rates(scenario, {100, 0, 0}).empty());
    CHECK(speaks_of(note_text(notes_on_rates(scenario, {100, 57, 0}), NoteCode::rate_above_usual),
                    "above 3 kg/ha, the largest usual dressing"));
  }

  TEST_CASE("a rate below what is usual is told where a carrier brings it, not for traces") {
    const auto note = notes_on_rates(Scenario(with_element("Zn")), {100, 0, 0.1});
    REQUIRE(note.size() == 1);
    CHECK(note[0].code == NoteCode::rate_below_usual);
    CHECK(note[0].level == NoteLevel::info);
    CHECK(speaks_of(note_text(notes_on_rates(Scenario(with_element("Zn")), {100, 3, 0}),
                              NoteCode::rate_below_usual),
                    "2 to 4 times the coated rate"));
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("rock", Form::granule, {{"P", 12}, {"Zn", 0.03}}));
    CHECK(notes_on_rates(Scenario(draft), {100, 300}).empty());
  }

  TEST_CASE("a product by the tonne tells how much of it brings the usual rate") {
    auto draft = with_element("B");
    draft.rates_kg_per_ha.clear();
    draft.grade_percent.push_back({"N", {20, 50}});
    const auto notes = notes_on_spreading(Scenario(draft), {980, 20, 0}, 1000);  // 0.2 % B
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].code == NoteCode::spread_at_most);
    CHECK(notes[0].level == NoteLevel::caution);
    CHECK(speaks_of(notes[0].text, "600 kg/ha of it brings 1.2 kg B/ha"));
    CHECK(speaks_of(notes[0].text, "1500 kg/ha"));
    CHECK(notes_on_spreading(Scenario(draft), {500, 500, 0}, 1000)[0].level == NoteLevel::warning);
  }

  TEST_CASE("a minimum above the ceiling is an error until it is confirmed") {
    auto draft = with_element("B");
    draft.rates_kg_per_ha.push_back({"B", {6, 8}});
    CHECK(errors_of(draft).empty());
    draft.rates_kg_per_ha.back().limits = {6.01, 8};
    CHECK(errors_of(draft) == std::vector<std::string>{"rates_kg_per_ha.B.min: high-rate"});
    draft.confirm_high_rate = {"Cu"};
    CHECK(errors_of(draft) == std::vector<std::string>{"rates_kg_per_ha.B.min: high-rate"});
    draft.confirm_high_rate = {"Cu", "B"};
    CHECK(errors_of(draft).empty());
    draft.confirm_high_rate = {"B", "B", "N"};
    CHECK(errors_of(draft) ==
          std::vector<std::string>{"blend.confirm_high_rate.1: duplicate-name",
                                   "blend.confirm_high_rate.2: not-a-micronutrient"});
  }

  TEST_CASE("a supply of more than twice its minimum is told, with the coating limit behind it") {
    auto draft = with_element("Zn");
    draft.rates_kg_per_ha = {{"N", {20}}, {"Zn", {1}}};
    draft.coating_percent = Limits{.max = 2.75};
    const Scenario scenario(draft);
    const auto full = notes_on_surplus(scenario, {100, 0, 2}, 102.75);  // 2 kg and 0.75 of binder
    REQUIRE(full.size() == 1);
    CHECK(full[0].code == NoteCode::supply_over_asked);
    CHECK(full[0].level == NoteLevel::warning);
    CHECK(full[0].subjects == std::vector<std::string>{"N"});
    CHECK(speaks_of(full[0].text, "46 kg/ha is 2.3 times the 20"));
    CHECK(speaks_of(full[0].text, "coating limit of 2.75 %"));
    const auto loose = notes_on_surplus(scenario, {100, 0, 1.9}, 102);
    REQUIRE(loose.size() == 1);
    CHECK(loose[0].level == NoteLevel::info);
    CHECK_FALSE(speaks_of(loose[0].text, "coating"));
    CHECK(notes_on_surplus(scenario, {80, 0, 2}, 82).empty());
  }

  TEST_CASE("only granules of metals need a factor of their own accord") {
    ScenarioDraft draft;
    for (const char* metal : {"Cu", "Zn", "Mn", "Fe"}) CHECK(granular_factor(draft, metal) == 3);
    for (const char* other : {"B", "Mo", "Se", "Co", "Ni", "N"})
      CHECK(granular_factor(draft, other) == 1);
    draft.granular_micronutrient_factor = 2;
    draft.granular_micronutrient_factors = {{"Mo", 4}};
    CHECK(granular_factor(draft, "B") == 2);
    CHECK(granular_factor(draft, "Mo") == 4);
    CHECK(granular_factor(draft, "N") == 1);
  }
}

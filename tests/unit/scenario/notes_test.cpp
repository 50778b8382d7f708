#include <doctest/doctest.h>
#include <leastwise/scenario.hpp>

#include <string>
#include <utility>

#include "unit/scenario/drafts.hpp"

using drafts::says;
using leastwise::Form;
using leastwise::NoteLevel;
using leastwise::Scenario;

TEST_SUITE("notes") {
  TEST_CASE("an unnamed binder is noted when there are powders") {
    auto draft = drafts::nitrogen();
    CHECK_FALSE(says(Scenario(draft), NoteLevel::info, "binder"));
    draft.materials.push_back(drafts::built_in("zinc-oxide"));
    CHECK(says(Scenario(draft), NoteLevel::info, "37.5 %"));
    draft.binder = leastwise::BinderDraft{"canola-oil", {}, {}, {}};
    CHECK_FALSE(says(Scenario(draft), NoteLevel::info, "binder"));
  }

  TEST_CASE("stock is noted as unused until make says how much to make") {
    auto draft = drafts::nitrogen();
    draft.materials.front().stock_kg = 100;
    CHECK(says(Scenario(draft), NoteLevel::info, "stock of 'white'"));
    draft.make_hectares = 3;
    CHECK_FALSE(says(Scenario(draft), NoteLevel::info, "stock"));
  }

  TEST_CASE("what must be ground and what stays out is said") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("salt", Form::crystal, {{"Zn", 20}}));
    CHECK(says(Scenario(draft), NoteLevel::info, "'salt' stays out"));
    draft.materials.back().ground = true;
    CHECK(says(Scenario(draft), NoteLevel::caution, "'salt' must be ground"));
  }

  TEST_CASE("toxic micronutrients are cautioned about when asked for or handled as powder") {
    const std::pair<const char*, const char*> hazards[] = {
        {"B", "crops"},  {"Cu", "sheep"}, {"Mo", "copper deficiency"},
        {"Se", "stock"}, {"Co", "lungs"}, {"Ni", "skin"}};
    for (const auto& [element, word] : hazards) {
      const std::string told(element);
      CAPTURE(told);
      auto draft = drafts::nitrogen();
      draft.materials.push_back(drafts::material("grain", Form::granule, {{element, 10}}));
      CHECK_FALSE(says(Scenario(draft), NoteLevel::caution, word));
      draft.grade_percent.push_back({element, {0, 1}});
      CHECK(says(Scenario(draft), NoteLevel::caution, word));
      draft.grade_percent.clear();
      draft.materials.back().form = Form::powder;
      CHECK(says(Scenario(draft), NoteLevel::caution, word));
    }
  }

  TEST_CASE("a price for a material nobody knows is a warning, for a built-in one it is not") {
    auto draft = drafts::nitrogen();
    draft.prices.push_back({"sop", 700, {}, {}});
    CHECK(Scenario(draft).notes().empty());
    draft.prices.push_back({"whyte", 1, {}, {}});
    CHECK(says(Scenario(draft), NoteLevel::warning, "did you mean 'white'?"));
  }

  TEST_CASE("a nutrient in the wrong case is pointed out") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("x", Form::granule, {{"zn", 3}}));
    CHECK(says(Scenario(draft), NoteLevel::warning, "did you mean 'Zn'?"));
  }

  TEST_CASE("remarks made while reading are passed on first") {
    auto draft = drafts::nitrogen();
    draft.materials.front().stock_kg = 100;
    draft.notes.push_back({NoteLevel::info, leastwise::NoteCode::other, {}, "read"});
    REQUIRE(Scenario(draft).notes().size() == 2);
    CHECK(Scenario(draft).notes()[0].text == "read");
  }
}

#include <doctest/doctest.h>
#include <leastwise/scenario.hpp>

#include "unit/scenario/drafts.hpp"

using leastwise::Compatibility;
using leastwise::Form;
using leastwise::LimitedCompatibility;
using leastwise::NoteLevel;
using leastwise::Scenario;
using Errors = std::vector<std::string>;

namespace {

leastwise::ScenarioDraft with(std::initializer_list<const char*> names) {
  auto draft = drafts::nitrogen();
  draft.materials.front() = drafts::built_in("map");  // which goes with all of them
  for (const char* name : names) draft.materials.push_back(drafts::built_in(name));
  return draft;
}

std::vector<std::string> pairs(std::span<const leastwise::Exclusion> exclusions) {
  std::vector<std::string> result;
  for (const auto& pair : exclusions) result.push_back(pair.family_a + "+" + pair.family_b);
  return result;
}

using Pairs = std::vector<std::string>;

}  // namespace

TEST_SUITE("compatibility") {
  TEST_CASE("a built-in rule holds when both families are present") {
    const Scenario both(with({"urea", "ammonium-nitrate"}));
    CHECK(pairs(both.exclusions()) == Pairs{"ammonium-nitrate+urea"});
    CHECK(both.exclusions()[0].level == Compatibility::incompatible);
    CHECK_FALSE(both.exclusions()[0].reason.empty());
    CHECK(both.exclusions()[0].path.empty());
    CHECK(pairs(Scenario(with({"urea"})).exclusions()).empty());
  }

  TEST_CASE("a material that cannot enter a blend excludes nothing") {
    auto draft = with({"urea", "ammonium-nitrate"});
    draft.materials.back().form = Form::fines;
    CHECK(Scenario(draft).exclusions().empty());
  }

  TEST_CASE("limited pairs are excluded only when the scenario forbids them") {
    auto draft = with({"urea", "mop"});
    CHECK(Scenario(draft).exclusions().empty());
    CHECK(pairs(Scenario(draft).limited_pairs()) == Pairs{"potassium-chloride+urea"});
    draft.limited_compatibility = LimitedCompatibility::forbid;
    CHECK(pairs(Scenario(draft).exclusions()) == Pairs{"potassium-chloride+urea"});
    CHECK(Scenario(draft).exclusions()[0].level == Compatibility::limited);
    CHECK(Scenario(draft).limited_pairs().empty());
  }

  TEST_CASE("the scenario's own pairs win over the table") {
    auto draft = with({"urea", "sop", "mop"});
    draft.incompatible = {{"urea", "potassium-sulfate"}};
    draft.compatible = {{"potassium-chloride", "urea"}};
    const Scenario scenario(draft);
    CHECK(pairs(scenario.exclusions()) == Pairs{"potassium-sulfate+urea"});
    CHECK(scenario.exclusions()[0].path == "compatibility.incompatible.0");
    CHECK(scenario.limited_pairs().empty());
  }

  TEST_CASE("lifting a rule is allowed and leaves a warning that names the hazard") {
    auto draft = with({"urea", "ammonium-nitrate"});
    draft.compatible = {{"urea", "ammonium-nitrate"}};
    const Scenario scenario(draft);
    CHECK(scenario.exclusions().empty());
    CHECK(drafts::says(scenario, NoteLevel::warning, "the hazard stays"));
    draft.compatible.clear();
    draft.limited = {{"urea", "ammonium-nitrate"}};
    CHECK(drafts::says(Scenario(draft), NoteLevel::warning, "the hazard stays"));
    CHECK(pairs(Scenario(draft).limited_pairs()) == Pairs{"ammonium-nitrate+urea"});
  }

  TEST_CASE("no fuel may be released to an oxidizer, however the scenario says it") {
    for (const char* fuel : {"elemental-sulfur", "organic-matter", "coated-urea", "chelates"}) {
      for (const char* oxidizer : {"ammonium-nitrate", "calcium-nitrate", "potassium-nitrate",
                                   "sodium-nitrate", "calcium-ammonium-nitrate"}) {
        CAPTURE(std::string(fuel));
        CAPTURE(std::string(oxidizer));
        auto draft = drafts::nitrogen();
        draft.compatible = {{oxidizer, fuel}};
        CHECK(drafts::errors_of(draft) == Errors{"compatibility.compatible.0: dangerous-pair"});
        draft.compatible.clear();
        draft.limited = {{fuel, oxidizer}};
        CHECK(drafts::errors_of(draft) == Errors{"compatibility.limited.0: dangerous-pair"});
      }
    }
  }

  TEST_CASE("an oxidizer and a fuel of unknown families are kept apart all the same") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(
        drafts::material("green", Form::granule, {{"N", 15}, {"N-nitrate", 14}}));
    draft.materials.push_back(drafts::material("yellow", Form::granule, {{"S", 90}}));
    CHECK(pairs(Scenario(draft).exclusions()) == Pairs{"green+white", "green+yellow"});
    CHECK(drafts::says(Scenario(draft), NoteLevel::warning, "counts as an oxidizer"));
    draft.compatible = {{"yellow", "green"}};
    CHECK(drafts::errors_of(draft) == Errors{"compatibility.compatible.0: dangerous-pair"});
  }

  TEST_CASE("families must be known, pairs be of two and be listed once") {
    auto draft = with({"urea"});
    draft.incompatible = {{"urea", "no-such"}, {"urea", "urea"}, {"urea", "lime"}};
    draft.limited = {{"lime", "urea"}};
    draft.compatible = {{"monoammonium-phosphate", "urea"}, {"urea", "monoammonium-phosphate"}};
    CHECK(drafts::errors_of(draft) == Errors{"compatibility.incompatible.0.1: unknown-family",
                                             "compatibility.incompatible.1: family-with-itself",
                                             "compatibility.limited.0: contradictory-pair",
                                             "compatibility.compatible.1: contradictory-pair"});
  }
}

namespace {

leastwise::ScenarioDraft coated(const char* granule) {
  auto draft = with({granule});
  draft.materials.push_back(drafts::built_in("zinc-oxide", 3100));
  return draft;
}

}  // namespace

TEST_SUITE("oxidizers and binders") {
  const Errors at_binder{"blend.binder.material: oxidizer-with-organic-binder"};

  TEST_CASE("an oil on an oxidizer is refused, with or without powders") {
    for (const char* granule :
         {"ammonium-nitrate", "calcium-ammonium-nitrate", "ammonium-sulfate-nitrate",
          "calcium-nitrate", "sodium-nitrate", "potassium-nitrate"}) {
      CAPTURE(std::string(granule));
      for (auto draft : {coated(granule), with({granule})}) {
        draft.binder = leastwise::BinderDraft{"canola-oil", {}, {}, {}};
        CHECK(drafts::errors_of(draft) == at_binder);
      }
    }
  }

  TEST_CASE("a binder nobody knows counts as an oil until the scenario says otherwise") {
    auto draft = coated("calcium-nitrate");
    draft.binder = leastwise::BinderDraft{"ridge-liquor", {}, {}, {}};
    CHECK(drafts::errors_of(draft) == at_binder);
    draft.binder->organic = true;
    CHECK(drafts::errors_of(draft) == at_binder);
    draft.binder->organic = false;
    CHECK(drafts::errors_of(draft).empty());
  }

  TEST_CASE("an inorganic binder is fine unless the scenario calls it organic") {
    auto draft = coated("calcium-nitrate");
    draft.binder = leastwise::BinderDraft{"water", {}, {}, {}};
    CHECK(drafts::errors_of(draft).empty());
    draft.binder->organic = true;
    CHECK(drafts::errors_of(draft) == at_binder);
  }

  TEST_CASE("nobody can declare an oil to be inorganic") {
    auto draft = coated("urea");
    draft.binder = leastwise::BinderDraft{"canola-oil", {}, {}, false};
    CHECK(drafts::errors_of(draft) == Errors{"blend.binder.organic: organic-binder-denied"});
  }

  TEST_CASE("an unnamed binder may be an oil, so powders on an oxidizer need a name") {
    CHECK(drafts::errors_of(coated("calcium-nitrate")) ==
          Errors{"materials.calcium-nitrate: oxidizer-with-organic-binder"});
    CHECK(drafts::errors_of(with({"calcium-nitrate"})).empty());
    auto draft = coated("calcium-nitrate");
    draft.binder = leastwise::BinderDraft{"", 40, {}, {}};
    CHECK(drafts::errors_of(draft) == Errors{"blend.binder: oxidizer-with-organic-binder"});
    draft.binder->organic = false;
    CHECK(drafts::errors_of(draft) ==
          Errors{"blend.binder: missing-key", "blend.binder: oxidizer-with-organic-binder"});
  }

  TEST_CASE("an oxidizer is known by its family, its contents or its name") {
    const auto refused = [](leastwise::MaterialDraft material) {
      auto draft = drafts::nitrogen();
      draft.materials.push_back(std::move(material));
      draft.binder = leastwise::BinderDraft{"canola-oil", {}, {}, {}};
      return !drafts::errors_of(draft).empty();
    };
    auto plain = drafts::material("green", Form::granule, {{"N", 9}});
    CHECK_FALSE(refused(plain));
    CHECK(refused(drafts::material("green", Form::granule, {{"N", 20}})));
    plain.family = "ammonium-nitrate";
    CHECK(refused(plain));
    plain.family = "Kalk-NITRATE";
    CHECK(refused(plain));
    CHECK(refused(drafts::material("Ridge Nitrate", Form::granule, {{"N", 20}})));
    CHECK(refused(drafts::material("green", Form::granule, {{"N", 20}, {"N-nitrate", 0.1}})));
    CHECK_FALSE(refused(drafts::material("green", Form::crystal, {{"N", 20}, {"N-nitrate", 9}})));
  }

  TEST_CASE("an oxidizer that is not in use harms nobody") {
    auto draft = coated("calcium-nitrate");
    draft.binder = leastwise::BinderDraft{"canola-oil", {}, {}, {}};
    draft.use = std::vector<std::string>{"map", "zinc-oxide"};
    CHECK(drafts::errors_of(draft).empty());
  }
}

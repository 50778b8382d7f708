#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/scenario.hpp>

#include "unit/scenario/drafts.hpp"

using doctest::Approx;
using leastwise::Form;
using leastwise::Scenario;
using Errors = std::vector<std::string>;

namespace {

/// Errors of a scenario whose only material is this one, beside plain urea.
Errors errors_of(leastwise::MaterialDraft material) {
  auto draft = drafts::nitrogen();
  draft.materials.push_back(std::move(material));
  return drafts::errors_of(draft);
}

Errors errors_of_contents(std::vector<leastwise::Content> contents) {
  return errors_of(drafts::material("x", Form::granule, std::move(contents)));
}

}  // namespace

TEST_SUITE("materials") {
  TEST_CASE("a name of the catalogue needs a price only, and may change anything but contents") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::built_in("urea", 410));
    draft.materials.back().sgn = 280;
    const Scenario scenario(draft);
    const auto* listed = leastwise::find_built_in_material("urea");
    REQUIRE(listed != nullptr);
    CHECK(scenario.materials()[1].contains_percent == listed->contains_percent);
    CHECK(scenario.materials()[1].family == listed->family);
    CHECK(scenario.materials()[1].source == listed->source);
    CHECK(scenario.materials()[1].price_per_t == 410);
    CHECK(scenario.materials()[1].sgn == 280);
  }

  TEST_CASE("contents of one's own take nothing from the catalogue") {
    auto own = drafts::material("map", Form::granule, {{"N", 11}, {"P2O5", 52}});
    auto draft = drafts::nitrogen();
    draft.materials.push_back(own);
    CHECK(Scenario(draft).materials()[1].family == "monoammonium-phosphate");
    CHECK(Scenario(draft).materials()[1].source.empty());
    own.form.reset();
    CHECK(errors_of(own) == Errors{"materials.map.form: missing-key"});
  }

  TEST_CASE("neither contents nor a known name is an error, an empty list of contents is not") {
    CHECK(errors_of(drafts::built_in("ridge-special")) ==
          Errors{"materials.ridge-special.contains_percent: missing-contents"});
    CHECK(errors_of(drafts::material("grit", Form::granule, {})).empty());
  }

  TEST_CASE("a formula gives the contents times the purity") {
    // ZnO: 65.38 / (65.38 + 15.999) = 0.803401, IUPAC atomic weights.
    auto oxide = drafts::built_in("white-oxide");
    oxide.form = Form::powder;
    oxide.formula = "ZnO";
    oxide.purity_percent = 97;
    auto draft = drafts::nitrogen();
    draft.materials.push_back(oxide);
    CHECK(leastwise::content_percent(Scenario(draft).materials()[1], "Zn") ==
          Approx(77.93).epsilon(1e-4));
  }

  TEST_CASE("use restricts the materials and brings in built-in ones priced by the list") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::built_in("sop"));
    draft.use = std::vector<std::string>{"urea", "white"};
    draft.prices.push_back({"urea", 400, 15, {}});
    const Scenario scenario(draft);
    REQUIRE(scenario.materials().size() == 2);
    CHECK(scenario.materials()[0].name == "white");
    CHECK(scenario.materials()[1].name == "urea");
    CHECK(scenario.materials()[1].price_per_t == 400);
    CHECK(scenario.materials()[1].freight_per_t == 15);
    draft.prices.clear();
    CHECK(drafts::errors_of(draft) == Errors{"use.0.price_per_t: missing-price"});
    draft.use->push_back("no-such");
    draft.use->push_back("white");
    CHECK(drafts::errors_of(draft) == Errors{"use.2: unknown-material", "use.3: duplicate-name",
                                             "use.0.price_per_t: missing-price"});
  }

  TEST_CASE("a material that is not used needs no price, but its mistakes count") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::built_in("sop"));
    draft.materials.back().price_per_t.reset();
    draft.use = std::vector<std::string>{"white"};
    CHECK(drafts::errors_of(draft).empty());
    draft.materials.back().freight_per_t = -1;
    CHECK(drafts::errors_of(draft) == Errors{"materials.sop.freight_per_t: out-of-range"});
  }

  TEST_CASE("the price list overrides the price, and the freight where it states one") {
    auto draft = drafts::nitrogen();
    draft.materials.front().freight_per_t = 12;
    draft.prices.push_back({"white", 400, {}, {}});
    CHECK(Scenario(draft).materials()[0].price_per_t == 400);
    CHECK(Scenario(draft).materials()[0].freight_per_t == 12);
    draft.prices.front().freight_per_t = 0;
    CHECK(Scenario(draft).materials()[0].freight_per_t == 0);
  }

  TEST_CASE("forms may reach their nutrient but not exceed it") {
    CHECK(errors_of_contents({{"N", 27}, {"N-ammonium", 13.5}, {"N-nitrate", 13.5}}).empty());
    CHECK(errors_of_contents({{"N", 27}, {"N-ammonium", 13.5}, {"N-nitrate", 13.6}}) ==
          Errors{"materials.x.contains_percent.N-nitrate: forms-over-parent"});
    CHECK(errors_of_contents({{"N", 46}, {"N-urea", 46}, {"N-slow", 46}}).empty());
    CHECK(errors_of_contents({{"N", 46}, {"N-slow", 46.1}}) ==
          Errors{"materials.x.contains_percent.N-slow: forms-over-parent"});
    CHECK(errors_of_contents({{"P2O5", 46}, {"P2O5-water", 46}, {"P2O5-citrate", 46}}).empty());
    CHECK(errors_of_contents({{"P2O5", 46}, {"P2O5-citrate", 46.1}}) ==
          Errors{"materials.x.contains_percent.P2O5-citrate: forms-over-parent"});
  }

  TEST_CASE("water-soluble phosphate is held against phosphorus stated as element") {
    CHECK(errors_of_contents({{"P", 20}, {"P2O5-water", 45}}).empty());  // 20 % P is 45.83 % P2O5
    CHECK(errors_of_contents({{"P", 20}, {"P2O5-water", 46}}) ==
          Errors{"materials.x.contains_percent.P2O5-water: forms-over-parent"});
  }

  TEST_CASE("a form without its nutrient is an error") {
    CHECK(errors_of_contents({{"N-urea", 46}}) ==
          Errors{"materials.x.contains_percent.N-urea: form-without-parent"});
  }

  TEST_CASE("one nutrient is stated once, as element or as oxide") {
    CHECK(errors_of_contents({{"P", 20}, {"P2O5", 46}}) ==
          Errors{"materials.x.contains_percent.P2O5: stated-twice"});
    CHECK(errors_of_contents({{"N", 20}, {"N", 20}}) ==
          Errors{"materials.x.contains_percent.N: duplicate-name"});
  }

  TEST_CASE("elements exceed 100 percent only without their oxygen, forms and properties") {
    CHECK(errors_of_contents({{"P2O5", 60}, {"K2O", 60}, {"moisture", 90}}).empty());
    CHECK(errors_of_contents({{"N", 60}, {"N-urea", 60}, {"S", 40}}).empty());
    CHECK(errors_of_contents({{"N", 60}, {"S", 40.1}}) ==
          Errors{"materials.x.contains_percent: contents-over-100"});
  }

  TEST_CASE("contents and formula exclude each other, purity needs the formula") {
    auto both = drafts::material("x", Form::powder, {{"Zn", 78}});
    both.formula = "ZnO";
    CHECK(errors_of(both) == Errors{"materials.x.formula: contents-and-formula"});
    both.formula.reset();
    both.purity_percent = 97;
    CHECK(errors_of(both) == Errors{"materials.x.purity_percent: purity-without-formula"});
  }

  TEST_CASE("a minimum if used above the largest share can never be met") {
    auto granule = drafts::material("x", Form::granule, {{"N", 20}});
    granule.share_percent = leastwise::Limits{0, 5};
    granule.min_if_used_percent = 5;
    CHECK(errors_of(granule).empty());
    granule.min_if_used_percent = 5.5;
    CHECK(errors_of(granule) == Errors{"materials.x.min_if_used_percent: min-over-max"});
  }

  TEST_CASE("grinding is for crystal and fines, the granule's factor for granules") {
    auto granule = drafts::material("x", Form::granule, {{"N", 20}});
    granule.ground = true;
    CHECK(errors_of(granule) == Errors{"materials.x.ground: bad-choice"});
    auto powder = drafts::material("x", Form::powder, {{"Zn", 20}});
    powder.micronutrient_granule = true;
    CHECK(errors_of(powder) == Errors{"materials.x.micronutrient_granule: bad-choice"});
  }

  TEST_CASE("every built-in material is accepted when it is priced") {
    for (const auto& listed : leastwise::built_in_materials()) {
      CAPTURE(listed.name);
      CHECK(errors_of(drafts::built_in(listed.name)) == Errors{});
    }
  }
}

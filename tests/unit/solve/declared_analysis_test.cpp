#include <doctest/doctest.h>
#include <leastwise/declare.hpp>
#include <leastwise/formulate.hpp>

#include <algorithm>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;
using doctest::Approx;

namespace {

ScenarioDraft of_use(std::vector<std::string> names) {
  ScenarioDraft draft;
  draft.use = names;
  for (const std::string& name : names) draft.prices.push_back({name, 400, {}, {}});
  draft.grade_percent = {{"N", at_least(1)}};
  return draft;
}

Portion portion_of(const std::string& material, double kg_per_t) {
  Portion portion;
  portion.material = material;
  portion.kg_per_t = kg_per_t;
  return portion;
}

const DeclaredContent& declared_line(const DeclaredAnalysis& analysis,
                                     const std::string& nutrient) {
  const auto found = std::ranges::find(analysis.contents, nutrient, &DeclaredContent::nutrient);
  REQUIRE(found != analysis.contents.end());
  return *found;
}

bool has_line(const DeclaredAnalysis& analysis, const std::string& nutrient) {
  return std::ranges::find(analysis.contents, nutrient, &DeclaredContent::nutrient) !=
         analysis.contents.end();
}

}  // namespace

TEST_SUITE("declared analysis") {
  TEST_CASE("forms of nitrogen and the solubility of phosphate stand below their nutrient") {
    const Scenario scenario(of_use({"urea", "map", "mop"}));
    const std::vector<Portion> portions{portion_of("urea", 200), portion_of("map", 300),
                                        portion_of("mop", 500)};
    const DeclaredAnalysis analysis = declared_analysis(scenario, portions);
    CHECK(declared_line(analysis, "N").found_percent == Approx(12.5));  // 0.2 x 46 + 0.3 x 11
    CHECK(declared_line(analysis, "N-urea").declared_percent == Approx(9.2));
    CHECK(declared_line(analysis, "N-ammonium").declared_percent == Approx(3.3));
    CHECK_FALSE(has_line(analysis, "N-nitrate"));
    CHECK(declared_line(analysis, "P2O5").declared_percent == Approx(15.6));
    CHECK(declared_line(analysis, "P2O5-water").declared_percent == Approx(14.1));
    CHECK(declared_line(analysis, "K2O").declared_percent == Approx(30));
    CHECK(analysis.contents[0].nutrient == "N");
    CHECK(analysis.derived_from ==
          std::vector<std::string>{"urea", "monoammonium phosphate", "potassium chloride"});
  }

  TEST_CASE("contents are rounded down, but what a limit just reaches is not lost to rounding") {
    ScenarioDraft draft = of_use({"urea", "mop"});
    const std::vector<Portion> portions{portion_of("urea", 260.86956521), portion_of("mop", 739.1)};
    // 0.26086956521 x 46 = 11.99999999966 %
    CHECK(declared_line(declared_analysis(Scenario(draft), portions), "N").declared_percent ==
          Approx(12));
    const std::vector<Portion> less{portion_of("urea", 260.8), portion_of("mop", 739.2)};
    CHECK(declared_line(declared_analysis(Scenario(draft), less), "N").declared_percent ==
          Approx(11.9));
    draft.declare = DeclarationTerms{};
    draft.declare->step_percent = 1;
    CHECK(declared_line(declared_analysis(Scenario(draft), less), "N").declared_percent ==
          Approx(11));
  }

  TEST_CASE("small contents keep two digits") {
    ScenarioDraft draft = of_use({"urea"});
    draft.materials = {stated("boron", 900, {{"B", 15}})};
    draft.use->emplace_back("boron");
    const std::vector<Portion> portions{portion_of("urea", 998),
                                        portion_of("boron", 2)};  // 0.03 % B
    CHECK(declared_line(declared_analysis(Scenario(draft), portions), "B").declared_percent ==
          Approx(0.03));
  }

  TEST_CASE("oxides or elements, as asked; the European rules take their own factors") {
    ScenarioDraft draft = of_use({"ammonium-sulfate", "kieserite"});
    const std::vector<Portion> portions{portion_of("ammonium-sulfate", 600),
                                        portion_of("kieserite", 400)};
    // 0.6 x 24 % S is 14.4; 0.4 x 50 % SO3 is 20. By atomic weights SO3 = S x 2.4972.
    CHECK(declared_line(declared_analysis(Scenario(draft), portions), "S").found_percent ==
          Approx(14.4 + 20 / 2.4972).epsilon(1e-4));
    draft.declare = DeclarationTerms{};
    draft.declare->rules = "eu-2019-1009";
    const auto european = declared_analysis(Scenario(draft), portions);
    CHECK(declared_line(european, "SO3").found_percent == Approx(14.4 / 0.4 + 20));
    CHECK(declared_line(european, "MgO").declared_percent == Approx(10));
    draft.declare->stated_as = "element";
    CHECK(has_line(declared_analysis(Scenario(draft), portions), "S"));
  }

  TEST_CASE("what is below its minimum is not declared, and has no tolerance") {
    ScenarioDraft draft = of_use({"urea", "map", "mop", "sop"});
    draft.declare = DeclarationTerms{"eu-2019-1009", "", {}};
    const std::vector<Portion> portions{portion_of("urea", 250), portion_of("map", 290),
                                        portion_of("mop", 440), portion_of("sop", 20)};
    const auto analysis = declared_analysis(Scenario(draft), portions);
    CHECK(declared_line(analysis, "SO3").below_minimum);  // 0.02 x 18 x 2.5 = 0.9 %, least 1.5 %
    CHECK_FALSE(declared_line(analysis, "SO3").tolerance_below);
    CHECK(*declared_line(analysis, "N").minimum_percent == 3);
    CHECK(*declared_line(analysis, "N").tolerance_below == Approx(1.9));  // three primary nutrients
    CHECK(analysis.notes.empty());
  }

  TEST_CASE("a compound too weak for the European rules is told") {
    ScenarioDraft draft = of_use({"urea", "map", "clay-filler"});
    draft.declare = DeclarationTerms{"eu-2019-1009", "", {}};
    const std::vector<Portion> portions{portion_of("urea", 100), portion_of("map", 100),
                                        portion_of("clay-filler", 800)};
    const auto analysis = declared_analysis(Scenario(draft), portions);
    REQUIRE(analysis.notes.size() == 1);
    CHECK(analysis.notes[0].code == NoteCode::declaration_short);
    CHECK(analysis.notes[0].text.find("10.9 %") != std::string::npos);  // 5.7 N and 5.2 P2O5
  }

  TEST_CASE("American labels guarantee available phosphate, a rock counts nothing to it") {
    ScenarioDraft draft = of_use({"map", "rock-phosphate"});
    draft.declare = DeclarationTerms{"aafco", "", {}};
    const std::vector<Portion> portions{portion_of("map", 500), portion_of("rock-phosphate", 500)};
    const auto analysis = declared_analysis(Scenario(draft), portions);
    const auto& phosphate = declared_line(analysis, "P2O5");
    CHECK(phosphate.words == "Available phosphate (P2O5)");
    CHECK(phosphate.found_percent == Approx(26));
    CHECK(phosphate.at_least);
  }

  TEST_CASE("a material that does not state its forms leaves them open") {
    ScenarioDraft draft = of_use({"map"});
    draft.materials = {stated("mixed N", 300, {{"N", 10}})};
    draft.use->emplace_back("mixed N");
    const std::vector<Portion> portions{portion_of("map", 500), portion_of("mixed N", 500)};
    CHECK(declared_line(declared_analysis(Scenario(draft), portions), "N-ammonium").at_least);
  }

  TEST_CASE("a blend declares its contents where the scenario says so") {
    ScenarioDraft draft = carrier_and_filler();
    CHECK_FALSE(formulate(Scenario(draft)).blend()->declared);
    draft.declare = DeclarationTerms{};
    REQUIRE(formulate(Scenario(draft)).blend()->declared);
    CHECK(formulate(Scenario(draft)).blend()->declared->contents[0].declared_percent == 10);
  }
}

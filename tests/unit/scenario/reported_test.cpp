#include <doctest/doctest.h>
#include <leastwise/scenario.hpp>

#include "unit/scenario/drafts.hpp"

using leastwise::Form;
using leastwise::Scenario;

namespace {

std::vector<std::string> names(const Scenario& scenario) {
  std::vector<std::string> result;
  for (const auto& reported : scenario.reported()) result.push_back(reported.nutrient);
  return result;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_SUITE("reported names") {
  TEST_CASE("targets come first in their order, then what the materials contain, in label order") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material(
        "mix", Form::granule, {{"Zn", 1}, {"K2O", 20}, {"S", 5}, {"moisture", 1}}));
    draft.grade_percent.push_back({"S", {0, 30}});
    draft.ratios.push_back({"K2O", "N", {0, 9}});
    CHECK(names(Scenario(draft)) == Names{"N", "S", "K2O", "Zn", "moisture"});
  }

  TEST_CASE("an element listed under one name is not listed under another") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("p", Form::granule, {{"P2O5", 46}, {"Ca", 10}}));
    CHECK(names(Scenario(draft)) == Names{"N", "P2O5", "Ca"});
    draft.rates_kg_per_ha.push_back({"P", {1, 90}});
    CHECK(names(Scenario(draft)) == Names{"N", "P", "Ca"});
  }

  TEST_CASE("forms are listed when they are targeted") {
    auto draft = drafts::nitrogen();
    draft.materials.front().contains_percent = {{"N", 46}, {"N-urea", 46}};
    CHECK(names(Scenario(draft)) == Names{"N"});
    draft.ratios.push_back({"N-urea", "N", {0, 1}});
    CHECK(names(Scenario(draft)) == Names{"N", "N-urea"});
  }

  TEST_CASE("values run along the materials, silicon is listed as its oxide") {
    auto draft = drafts::nitrogen();
    draft.materials.push_back(drafts::material("slag", Form::granule, {{"SiO2", 40}}));
    const Scenario scenario(draft);
    REQUIRE(names(scenario) == Names{"N", "SiO2"});
    CHECK(scenario.reported()[1].content_percent == std::vector<double>{0, 40});
    CHECK(scenario.reported()[1].availability == std::vector<double>{1, 1});
  }
}

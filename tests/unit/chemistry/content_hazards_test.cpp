#include <doctest/doctest.h>
#include <leastwise/toxic_element.hpp>

#include <string>
#include <utility>
#include <vector>

#include "chemistry/hazard/hazards.hpp"

using namespace leastwise;

namespace {

Nature of(std::vector<Content> contents, std::string family = "good") {
  Material material;
  material.name = "good";
  material.family = std::move(family);
  material.contains_percent = std::move(contents);
  return nature_of(material);
}

}  // namespace

TEST_SUITE("hazards of contents") {
  TEST_CASE("nitrate that is stated, and nitrate that forms leave open") {
    CHECK(of({{"N", 34}, {"N-nitrate", 17}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 34}, {"N-ammonium", 17}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 34}, {"N-ammonium", 17}}, "ammonium-sulfate").has(HazardClass::oxidizer));
    CHECK_FALSE(of({{"N", 21}, {"N-ammonium", 20.8}, {"S", 24}}).has(HazardClass::oxidizer));
    CHECK_FALSE(of({{"N", 40}, {"N-urea", 35}, {"N-ammonium", 5}}).has(HazardClass::oxidizer));
  }

  TEST_CASE("nitrogen without forms is told by what binds it") {
    CHECK(of({{"N", 34}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 27}, {"Ca", 6}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 34}}, "filler").has(HazardClass::oxidizer));
    CHECK(of({{"N", 34}}, "urea").has(HazardClass::oxidizer));
    CHECK(of({{"N", 13}, {"K2O", 46}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 15.5}, {"Ca", 19}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 16}, {"Na", 26}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 12}, {"K2O", 43}, {"P2O5", 2}}).has(HazardClass::oxidizer));
    CHECK(of({{"N", 21}, {"Ca", 8}}, "ammonium-sulfate").has(HazardClass::oxidizer));
    CHECK(of({{"N", 33}, {"S", 12}}).has(HazardClass::urea));  // in doubt, and so an oxidizer
    CHECK(of({{"N", 33}, {"S", 12}}).find(HazardClass::urea)->doubt);
    CHECK(of({{"N", 46}}, "ammonium-nitrat").has(HazardClass::urea));
    CHECK(of({{"N", 46}}).has(HazardClass::urea));
    CHECK_FALSE(of({{"N", 46}}).has(HazardClass::oxidizer));
    for (const auto& contents : std::vector<std::vector<Content>>{{{"N", 21}, {"S", 24}},
                                                                  {{"N", 25}, {"Cl", 64}},
                                                                  {{"N", 18}, {"P2O5", 46}},
                                                                  {{"N", 11}, {"P2O5", 52}},
                                                                  {{"N", 12}, {"P2O5", 61}}}) {
      CAPTURE(contents.front().percent);
      CHECK_FALSE(of(contents).has(HazardClass::oxidizer));
      CHECK(of(contents).has(HazardClass::ammonium));
    }
    CHECK_FALSE(of({{"N", 21}}, "ammonium-sulfate").has(HazardClass::oxidizer));
  }

  TEST_CASE("sulfur, lime and metals beyond what their compounds hold") {
    CHECK(of({{"S", 45}}).has(HazardClass::fuel));
    CHECK(of({{"SO3", 75}}).has(HazardClass::fuel));
    CHECK_FALSE(of({{"S", 26.5}, {"Mg", 20}}).has(HazardClass::fuel));
    CHECK(of({{"Fe", 99}}).has(HazardClass::fuel));
    CHECK(of({{"Zn", 95}}).has(HazardClass::fuel));
    CHECK_FALSE(of({{"Zn", 80}}).has(HazardClass::fuel));
    CHECK_FALSE(of({{"Cu", 88}}).has(HazardClass::fuel));
    CHECK(of({{"CaO", 90}}).has(HazardClass::alkaline));
    CHECK(of({{"MgO", 80}}).has(HazardClass::alkaline));
    CHECK_FALSE(of({{"CaO", 56}}).has(HazardClass::alkaline));
    CHECK_FALSE(of({{"CaO", 30.4}, {"MgO", 21.9}}).has(HazardClass::alkaline));
  }

  TEST_CASE("toxic elements by content and by family, from the one table") {
    for (const auto& element : toxic_elements()) {
      CAPTURE(element.symbol);
      const Nature much = of({{element.symbol, element.from_percent}});
      REQUIRE(much.has(HazardClass::toxic_element));
      CHECK(much.find(HazardClass::toxic_element)->detail == element.symbol);
      CHECK_FALSE(
          of({{element.symbol, element.from_percent * 0.9}}).has(HazardClass::toxic_element));
      CHECK_FALSE(much.has(HazardClass::refused));
    }
    CHECK(of({{"S", 12}}, "copper-compounds").has(HazardClass::toxic_element));
    CHECK(of({{"Na", 12}}, "borates").find(HazardClass::toxic_element)->detail == "B");
  }

  TEST_CASE("a stated family that neither contents nor a mineral name bear out is a statement") {
    CHECK(of({{"K2O", 1}}, "filler").only_stated);
    CHECK(of({{"K2O", 5}}, "potassium-chloride").only_stated);
    CHECK_FALSE(of({{"K2O", 60}, {"Cl", 47}}, "potassium-chloride").only_stated);
    CHECK_FALSE(of({{"Ca", 36}}, "limestone").only_stated);
    Material sand;
    sand.name = "river sand";
    sand.family = "filler";
    CHECK_FALSE(nature_of(sand).only_stated);
  }

  TEST_CASE("properties of organic matter, over the carbon that the law allows in a nitrate") {
    for (const char* name :
         {"organic-C", "C", "organic matter", "carbon", "Organic_Carbon", "humic-acid", "TOC",
          "mati\xC3\xA8re organique", "Organische Substanz"}) {
      CAPTURE(name);
      CHECK(of({{name, 5}}).has(HazardClass::fuel));
      CHECK_FALSE(of({{name, 0.1}}).has(HazardClass::fuel));
    }
    for (const char* name :
         {"oil content", "dry matter, organic", "humates", "loss on ignition", "cellulosic fibre",
          "elemental-S", "glucides", "lignosulfonate", "substancja organiczna", "EDTA", "sugars",
          "starch", "polymer", "urea-formaldehyde", "metallic Zn"}) {
      CAPTURE(name);
      CHECK(of({{name, 5}}).has(HazardClass::fuel));
    }
    CHECK(of({{"nitrate-N", 14}}).has(HazardClass::oxidizer));
    for (const char* name : {"carbonate", "moisture", "Cd", "biuret", "citrate-soluble",
                             "P2O5 in citric acid", "nitrogen", "water-soluble P"}) {
      CAPTURE(name);
      CHECK_FALSE(of({{name, 5}}).has(HazardClass::fuel));
    }
  }
}

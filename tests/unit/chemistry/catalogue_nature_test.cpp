#include <leastwise/catalogue.hpp>
#include <leastwise/compatibility.hpp>

#include <doctest/doctest.h>

#include "chemistry/hazard/hazards.hpp"

using namespace leastwise;

TEST_SUITE("nature of the catalogue") {
  TEST_CASE("each material is known, and none is refused") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      const Nature nature = nature_of(material);
      CHECK(nature.known);
      CHECK_FALSE(nature.has(HazardClass::refused));
      CHECK(nature.families.front() == material.family);
    }
  }

  TEST_CASE("what formula, contents and name show is what the family is listed with") {
    for (const Material& material : built_in_materials()) {
      for (const HazardClass kind : {HazardClass::oxidizer, HazardClass::fuel, HazardClass::urea,
                                     HazardClass::alkaline, HazardClass::copper}) {
        if (material.name == "copper-edta" && kind == HazardClass::copper) continue;
        CAPTURE(material.name);
        CAPTURE(in_words(kind));
        CHECK(nature_of(material).has(kind) == family_has(material.family, kind));
      }
    }
  }

  TEST_CASE("copper oxides are of their own family and no other, whatever they are called") {
    for (const char* name : {"copper-oxide", "cuprous-oxide"}) {
      CAPTURE(name);
      CHECK(nature_of(*find_built_in_material(name)).families ==
            std::vector<std::string>{"copper-oxides"});
    }
    Material own;
    own.name = own.family = "copper oxide 75";
    own.formula = "CuO";
    own.family = "copper-oxides";
    CHECK(nature_of(own).families == std::vector<std::string>{"copper-oxides"});
  }

  TEST_CASE("families and hazards agree on oxidizers") {
    for (const Family& family : built_in_families()) {
      CAPTURE(family.name);
      CHECK(family.oxidizer == family_has(family.name, HazardClass::oxidizer));
    }
  }

  TEST_CASE(
      "organic granules, methylene urea and sulfur in granules are fuel, urea with an inhibitor is "
      "urea") {
    for (const char* name :
         {"organic-granule", "methylene-urea", "ammonium-phosphate-with-sulfur"}) {
      CAPTURE(name);
      CHECK(nature_of(*find_built_in_material(name)).has(HazardClass::fuel));
      CHECK_FALSE(nature_of(*find_built_in_material(name)).has(HazardClass::oxidizer));
    }
    const Nature treated = nature_of(*find_built_in_material("inhibitor-treated-urea"));
    CHECK(treated.has(HazardClass::urea));
    CHECK(treated.families == std::vector<std::string>{"urea"});
  }

  TEST_CASE("each hazard has a reason and a source") {
    for (const Material& material : built_in_materials()) {
      for (const Hazard& hazard : hazards_of(material)) {
        CAPTURE(material.name);
        CHECK_FALSE(hazard.reason.empty());
        CHECK_FALSE(hazard.source.empty());
      }
    }
  }

  TEST_CASE("another family takes nothing away") {
    Material edta = *find_built_in_material("zinc-edta");
    edta.family = "filler";
    CHECK(nature_of(edta).has(HazardClass::fuel));
    Material sulfur = *find_built_in_material("sulfur-bentonite");
    sulfur.family = "anything";
    CHECK(nature_of(sulfur).has(HazardClass::fuel));
  }

  TEST_CASE("names of the table of binders count for materials") {
    Material material;
    material.form = Form::powder;
    for (const char* name : {"molasses", "Palm Oil", "gum-arabic"}) {
      material.name = name;
      material.family = name;
      CHECK(nature_of(material).has(HazardClass::fuel));
    }
  }
}

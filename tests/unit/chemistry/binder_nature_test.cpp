#include "chemistry/hazard/binder_nature.hpp"

#include <doctest/doctest.h>

using namespace leastwise;

TEST_SUITE("nature of binders") {
  TEST_CASE("the table knows a binder in any spelling") {
    CHECK(evidence_on_binder("Wax").nature == BinderNature::organic);
    CHECK(evidence_on_binder("Canola Oil").nature == BinderNature::organic);
    CHECK(evidence_on_binder("SODIUM_SILICATE").nature == BinderNature::inorganic);
    CHECK(evidence_on_binder("water").nature == BinderNature::inorganic);
  }

  TEST_CASE("a name with an organic word is organic, in many languages") {
    for (const char* name :
         {"diesel fuel", "sticky oil",  "Pflanzenöl", "Rapsöl",       "huile de colza",
          "aceite",      "olio",        "olej",       "bitkisel yağ", "kerosene",
          "paraffine",   "sirop",       "melasse",    "glycerine",    "lignosulphonate",
          "PVA glue",    "gum",         "resin X",    "polymer 7",    "latex",
          "alcohol",     "urea liquor", "canola",     "starch paste", "adhesive",
          "binder 3",    "tallow",      "Lijnolie",   "олія",         "λάδι",
          "植物油",      "زيت",         "오일",       "öljy",         "soap",
          "treacle",     "milk",        "o i l",      "vaseline",     "UAN",
          "Bindemittel", "колла 粘合剂"}) {
      CAPTURE(name);
      CHECK(evidence_on_binder(name).nature == BinderNature::organic);
    }
  }

  TEST_CASE("letters of a script without words here hide what a binder is") {
    CHECK(evidence_on_binder("結合剤").nature == BinderNature::organic);
    CHECK(evidence_on_binder("силикат").nature == BinderNature::unknown);
  }

  TEST_CASE("other names are unknown") {
    for (const char* name : {"silicate-solution", "secret-sauce", "phosphate liquor"}) {
      CAPTURE(name);
      CHECK(evidence_on_binder(name).nature == BinderNature::unknown);
    }
    CHECK(evidence_on_binder("silicate-solution").alkaline);
    CHECK(evidence_on_binder("magnesium-chloride-brine").chloride);
  }
}

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "chemistry/hazard/hazards.hpp"

using namespace leastwise;

namespace {

bool says(const char* name, HazardClass kind, std::vector<Content> contents = {{"N", 27}}) {
  Material material;
  material.name = name;
  material.family = name;
  material.contains_percent = std::move(contents);
  return nature_of(material).has(kind);
}

}  // namespace

TEST_SUITE("hazards of names") {
  TEST_CASE("nitrates in many languages") {
    for (const char* name :
         {"ammonsalpeter", "Kalkammonsalpeter", "saltpetre", "Chile saltpeter", "salp\xC3\xAAtre",
          "salitre", "salnitro", "nitrato-de-amonio", "nitrato d'ammonio", "nitrate d'ammonium",
          "kaliumnitraat", "saletra amonowa", "azotan potasu", "potasyum nitrat", "ledek vapenatý",
          "dusičnan amonný", "селитра", "Нитрат аммония"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::oxidizer, {{"K2O", 1}}));
    }
  }

  TEST_CASE("letters of the trade count beside nitrogen, as whole words") {
    for (const char* name : {"AN 33.5", "an34", "CAN", "CAN27", "ASN 26", "KAS", "LAN 28"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::oxidizer));
    }
    CHECK_FALSE(says("AN", HazardClass::oxidizer, {{"K2O", 60}}));
    for (const char* name : {"candle", "canary", "manganese"}) {
      CAPTURE(name);
      CHECK_FALSE(says(name, HazardClass::oxidizer, {{"N", 6}}));
    }
  }

  TEST_CASE("what burns, in many languages") {
    for (const char* name : {"charcoal",
                             "Holzkohle",
                             "biochar",
                             "charbon de bois",
                             "carb\xC3\xB3n vegetal",
                             "castor cake",
                             "meat meal",
                             "bone-meal",
                             "Hornmehl",
                             "farine d'os",
                             "harina de sangre",
                             "sugar",
                             "Zucker",
                             "sucre",
                             "az\xC3\xBA"
                             "car",
                             "cukier",
                             "\xC5\x9F"
                             "eker",
                             "molasses",
                             "Melasse",
                             "wax",
                             "Bienenwachs",
                             "cera",
                             "oil cake",
                             "vegetable oil",
                             "Sonnenblumen\xC3\xB6l",
                             "aceite de palma",
                             "huile",
                             "sawdust",
                             "S\xC3\xA4gemehl",
                             "peat",
                             "Torf",
                             "tourbe",
                             "humate granule",
                             "leonardite",
                             "sulfur 90",
                             "Schwefel",
                             "soufre",
                             "azufre",
                             "zolfo",
                             "enxofre",
                             "zwavel",
                             "siarka",
                             "k\xC3\xBCk\xC3\xBCrt",
                             "zinc EDTA",
                             "Fe-DTPA",
                             "chelate",
                             "diesel fuel",
                             "paraffin",
                             "poultry litter",
                             "rice husk",
                             "starch",
                             "gum arabic",
                             "aluminium powder",
                             "zinc dust",
                             "Diesel_Fuel",
                             "DIESEL"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::fuel, {{"N", 0.1}}));
    }
  }

  TEST_CASE("harmless names stay harmless") {
    for (const char* name : {"ammonium sulfate",
                             "Ammoniumsulfat",
                             "schwefelsaures Ammoniak",
                             "potassium sulphate",
                             "map",
                             "mop",
                             "sop",
                             "sop-magnesia",
                             "kieserite",
                             "limestone",
                             "soil sulfate",
                             "gypsum",
                             "calcium carbonate",
                             "triple superphosphate",
                             "muriate of potash",
                             "zinc sulfate",
                             "grit-filler",
                             "rock phosphate",
                             "boron granule",
                             "dolomite"}) {
      CAPTURE(name);
      CHECK_FALSE(says(name, HazardClass::fuel, {{"K2O", 1}}));
      CHECK_FALSE(says(name, HazardClass::oxidizer, {{"K2O", 1}}));
      CHECK_FALSE(says(name, HazardClass::refused, {{"K2O", 1}}));
    }
    CHECK_FALSE(says("limestone", HazardClass::alkaline, {{"Ca", 30}}));
    CHECK_FALSE(says("potash", HazardClass::alkaline, {{"K2O", 60}}));
  }

  TEST_CASE("what no fertilizer needs is refused by name") {
    for (const char* name :
         {"sodium chlorate", "Kaliumchlorat", "clorato de potasio", "potassium permanganate",
          "sodium nitrite", "Natriumnitrit", "calcium hypochlorite", "ammonium persulfate",
          "potassium dichromate", "hydrogen peroxide", "potassium bromate", "potassium iodate"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::refused, {{"K2O", 30}}));
    }
  }

  TEST_CASE("urea, lime and copper by name") {
    for (const char* name : {"Urea 46", "Harnstoff",
                             "ur\xC3\xA9"
                             "e",
                             "mocznik", "carbamide"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::urea, {{"N", 46}}));
    }
    for (const char* name : {"quicklime", "Branntkalk", "chaux vive", "cal viva", "wood ash",
                             "basic slag", "hydrated lime"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::alkaline, {{"K2O", 1}}));
    }
    for (const char* name : {"Kupfersulfat", "sulfate de cuivre", "copper granule"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::copper, {{"S", 10}}));
    }
  }
}

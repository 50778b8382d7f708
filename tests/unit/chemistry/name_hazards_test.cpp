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

  TEST_CASE("formulas written in a name count, analyses do not") {
    for (const char* name : {"NH4NO3", "nh4no3 prills", "KNO3 crystals", "Ca(NO3)2 granule"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::oxidizer, {{"K2O", 1}}));
    }
    CHECK(says("KClO3", HazardClass::refused, {{"K2O", 1}}));
    CHECK(says("NaNO2 crystals", HazardClass::refused, {{"K2O", 1}}));
    CHECK(says("CO(NH2)2 prills", HazardClass::urea, {{"K2O", 1}}));
    CHECK(says("CaO", HazardClass::alkaline, {{"K2O", 1}}));
    CHECK(says("cuso4 5h2o", HazardClass::copper, {{"K2O", 1}}));
    for (const char* name : {"P2O5 46", "K2O-60", "S", "C", "N15 P15 K15", "SOP", "NPK", "MOP",
                             "S2", "no 3", "CaCO3", "SiO2 sand"}) {
      CAPTURE(name);
      for (const auto kind : {HazardClass::oxidizer, HazardClass::refused, HazardClass::alkaline,
                              HazardClass::fuel}) {
        CHECK_FALSE(says(name, kind, {{"K2O", 1}}));
      }
    }
  }

  TEST_CASE("single letters are read as one word") {
    CHECK(says("A.N. 33", HazardClass::oxidizer));
    CHECK(says("o i l", HazardClass::fuel));
  }

  TEST_CASE("lime that is carbonate, and the size of grains, mean no harm") {
    for (const char* name : {"ag lime", "agricultural lime", "dolomitic lime", "lime stone",
                             "carbonate de chaux", "kohlensaurer Kalk"}) {
      CAPTURE(name);
      CHECK_FALSE(says(name, HazardClass::alkaline, {{"Ca", 36}}));
    }
    CHECK_FALSE(says("grit, grain size 3 mm", HazardClass::fuel, {{"K2O", 1}}));
    CHECK_FALSE(says("schwefelsaures Ammoniak", HazardClass::acid));
    CHECK_FALSE(says("nitrogen granule", HazardClass::oxidizer, {{"N", 10}}));
    CHECK_FALSE(
        says("CAN g\xC3\xBC"
             "bre",
             HazardClass::fuel));
  }

  TEST_CASE("more languages and scripts") {
    for (const char* name : {"нітрат амонію", "saletrzak", "νιτρικό κάλιο", "硝酸铵", "نترات",
                             "güherçile", "salpietari", "nitro 26"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::oxidizer, {{"K2O", 1}}));
    }
    for (const char* name :
         {"опилки", "костная мука", "вугілля", "сірка", "fűrészpor", "rašelina", "ζάχαρη", "θείο",
          "活性炭", "硫黄", "سكر", "설탕", "कोयला", "sahanpuru", "Rapsschrot", "Pferdemist",
          "coffee grounds", "organic blend"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::fuel, {{"K2O", 1}}));
    }
    for (const char* name :
         {"хлорат калия", "бертолетова соль", "氯酸钾", "dusitan sodný", "picric acid", "bleach"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::refused, {{"K2O", 1}}));
    }
    for (const char* name : {"bluestone", "медный купорос", "硫酸铜", "réz"}) {
      CAPTURE(name);
      CHECK(says(name, HazardClass::copper, {{"S", 1}}));
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

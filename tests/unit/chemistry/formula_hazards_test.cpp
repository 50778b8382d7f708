#include "chemistry/hazard/formula_hazards.hpp"

#include <doctest/doctest.h>

#include <initializer_list>
#include <string>
#include <utility>

using namespace leastwise;

namespace {

Nature of(std::string_view formula) {
  Nature nature;
  add_formula_hazards(formula, nature);
  return nature;
}

void check_all(std::initializer_list<const char*> formulas, HazardClass kind) {
  for (const char* formula : formulas) {
    CAPTURE(std::string(formula));
    CHECK(of(formula).has(kind));
    CHECK(of(formula).known);
  }
}

void check_none(std::initializer_list<const char*> formulas, HazardClass kind) {
  for (const char* formula : formulas) {
    CAPTURE(std::string(formula));
    CHECK_FALSE(of(formula).has(kind));
  }
}

}  // namespace

// The classes are those of inorganic chemistry and of the UN Model Regulations, Division 5.1 (from
// memory); the formulas are written as groups and as sums.
TEST_SUITE("hazards of formulas") {
  TEST_CASE("nitrates are oxidizers however they are written") {
    check_all({"NH4NO3",        "N2H4O3",   "H4N2O3",        "N2H4O3",
               "KNO3",          "NO3K",     "KO3N",          "NaNO3",
               "Ca(NO3)2",      "CaN2O6",   "Ca(NO3)2.4H2O", "5Ca(NO3)2.NH4NO3.10H2O",
               "Mg(NO3)2.6H2O", "Zn(NO3)2", "ZnN2O6",        "Cu(NO3)2.3H2O",
               "CuN2O6",        "Fe(NO3)3", "FeN3O9",        "CoN2O6",
               "MnN2O6",        "AlN3O9",   "HNO3",          "N2O5"},
              HazardClass::oxidizer);
    check_all({"NH4NO3", "N2H4O3", "H4N2O3"}, HazardClass::ammonium);
    check_none({"NH4NO3", "KNO3", "Ca(NO3)2", "ZnN2O6", "CoN2O6", "Fe(NO3)3"},
               HazardClass::refused);
  }

  TEST_CASE("salts of ammonium and urea are no oxidizers") {
    check_none({"(NH4)2SO4", "N2H8SO4", "NH4H2PO4", "H6NPO4", "(NH4)2HPO4", "H9N2PO4", "NH4Cl",
                "CO(NH2)2", "CH4N2O", "(NH4)6Mo7O24.4H2O", "NH4HCO3", "MgNH4PO4.6H2O",
                "FeSO4.(NH4)2SO4.6H2O", "H3NSO3", "CH5NO3", "CH8N2O3"},
               HazardClass::oxidizer);
    check_none({"(NH4)2SO4", "N2H8SO4", "NH4H2PO4", "H9N2PO4", "NH4Cl", "CO(NH2)2", "CH4N2O",
                "NH4HCO3", "MgNH4PO4.6H2O"},
               HazardClass::refused);
    check_all({"(NH4)2SO4", "N2H8SO4", "NH4H2PO4", "H9N2PO4", "NH4Cl", "H4NCl", "NH4HCO3"},
              HazardClass::ammonium);
    check_all({"CO(NH2)2", "CH4N2O", "NH2CONH2", "OC(NH2)2", "CH7N2O5P", "CO(NH2)2.H3PO4"},
              HazardClass::urea);
    check_all({"CH5NO3", "CH8N2O3"}, HazardClass::ammonium);
    check_none({"CH5NO3", "CH8N2O3"}, HazardClass::urea);
  }

  TEST_CASE("what no fertilizer needs is refused") {
    check_all({"KClO3",         "NaClO3",     "Ca(ClO3)2", "KClO4",   "NH4ClO4",
               "NaClO",         "Ca(ClO)2",   "CaCl(ClO)", "NaClO2",  "KMnO4",
               "K2MnO4",        "K2Cr2O7",    "CrO3",      "Na2CrO4", "(NH4)2Cr2O7",
               "H2O2",          "Na2O2",      "CaO2",      "BaO2",    "KO2",
               "K2S2O8",        "(NH4)2S2O8", "KHSO5",     "NaBO3",   "Na2CO3.1.5H2O2",
               "KBrO3",         "KIO3",       "Ca(IO3)2",  "KIO4",    "NaNO2",
               "KNO2",          "Ca(NO2)2",   "NH4NO2",    "N2H4O2",  "NaN3",
               "N2H4",          "KCN",        "NaCN",      "CaC2",    "Ca3P2",
               "CO(NH2)2.HNO3", "CH5N3O4",    "C3H5N3O9",  "K2FeO4",  "O2",
               "Cl2",           "N2H8S2O8",   "NH2OH",     "NO2"},
              HazardClass::refused);
  }

  // Oxygen balances of explosives: -74 % for C7H5N3O6, -22 % for C3H6N6O6, -10 % for C5H8N4O12;
  // of urea -80 %, of glycine -96 %; computed.
  TEST_CASE("explosives are told by the oxygen they carry for their own fuel") {
    check_all({"C7H5N3O6", "C3H6N6O6", "C5H8N4O12", "C6H3N3O7", "C2H5NO3", "CH3NO3", "CH6N4O3"},
              HazardClass::refused);
    check_none({"C2H5NO2", "C2H4N4", "C3H6N6", "C6H14N2O2", "C3H8N4O2", "CH4N2O", "C10H12N2O8FeNa"},
               HazardClass::refused);
  }

  TEST_CASE("compounds of metals that laws allow in traces only are refused") {
    check_all({"As2O3", "CdSO4", "PbO", "HgCl2", "TlCl", "BeO"}, HazardClass::refused);
    check_none({"CuSO4", "NiSO4", "CoSO4", "H3BO3", "Na2MoO4", "Na2SeO4", "V2O5", "Cr2O3"},
               HazardClass::refused);
  }

  TEST_CASE("salts and oxides that fertilizers are made of are not refused") {
    check_none({"KCl",
                "K2SO4",
                "MgSO4.7H2O",
                "MgSO4.H2O",
                "CaSO4.2H2O",
                "CaCO3",
                "CaMg(CO3)2",
                "FeCO3",
                "ZnO",
                "ZnSO4.H2O",
                "MnO",
                "MnO2",
                "Mn3O4",
                "CuO",
                "Cu2O",
                "CuSO4.5H2O",
                "Cu2(OH)3Cl",
                "Cu2(OH)2CO3",
                "FeSO4.7H2O",
                "Fe2O3",
                "Fe3O4",
                "H3BO3",
                "Na2B4O7.5H2O",
                "Na2B8O13.4H2O",
                "Ca2B6O11.5H2O",
                "NaCaB5O9.8H2O",
                "Na2MoO4.2H2O",
                "MoO3",
                "Na2SeO4",
                "CoSO4.7H2O",
                "NiSO4.6H2O",
                "Ca(H2PO4)2.H2O",
                "Ca5(PO4)3F",
                "KH2PO4",
                "K2HPO4",
                "MgCl2.6H2O",
                "MgCl2H12O6",
                "CaCl2",
                "SiO2",
                "K2SiO3",
                "CaO",
                "Ca(OH)2",
                "MgO",
                "H2SO4",
                "H3PO4",
                "K2SO4.MgSO4.2CaSO4.2H2O",
                "S",
                "C",
                "KI"},
               HazardClass::refused);
    check_none(
        {"KCl", "K2SO4",      "MgSO4.7H2O",   "CaCO3",      "CaMg(CO3)2", "FeCO3",  "Cu2(OH)2CO3",
         "ZnO", "ZnSO4.H2O",  "MnO2",         "FeSO4.7H2O", "CuSO4.5H2O", "H3BO3",  "SiO2",
         "MgO", "CaSO4.2H2O", "Na2MoO4.2H2O", "KHCO3",      "CO(NH2)2",   "NH4HCO3"},
        HazardClass::fuel);
    check_none({"K2SO4", "MgSO4.7H2O", "FeSO4.7H2O", "Fe2(SO4)3", "CuSO4.5H2O", "KH2PO4",
                "(NH4)2SO4", "Ca(H2PO4)2"},
               HazardClass::reducer);
  }

  TEST_CASE("carbon, elements, organic matter and cyanamide burn") {
    check_all({"C",      "S",       "S8",        "Zn",     "Al",
               "Mg",     "Fe",      "Si",        "P",      "P4",
               "AlMg",   "C6H12O6", "C12H22O11", "C25H52", "C10H12N2Na2O8Zn",
               "CaCN2",  "C6H8O7",  "CH3COOK",   "K2C2O4", "C3H8O3",
               "CH4N2S", "FeC"},
              HazardClass::fuel);
  }

  TEST_CASE("sulfides, sulfites, thiosulfates and phosphites take up oxygen") {
    check_all({"FeS2", "FeS", "Na2S", "Na2SO3", "CaSO3", "K2S2O3", "(NH4)2S2O3", "K2S2O5", "KH2PO3",
               "NaH2PO2"},
              HazardClass::reducer);
  }

  TEST_CASE("strong bases and strong acids are told from their salts") {
    check_all({"CaO",    "Ca(OH)2", "MgO",    "KOH",       "NaOH",  "K2O", "K2CO3",
               "Na2CO3", "Na2SiO3", "K2SiO3", "Ca2SiO4",   "K3PO4", "NH3", "NH4OH",
               "CaCN2",  "CaSiO3",  "NaAlO2", "Ca(AlO2)2", "Na2S",  "CaS"},
              HazardClass::alkaline);
    check_none(
        {"CaCO3", "CaMg(CO3)2", "KHCO3", "K2SO4", "KCl", "SiO2", "H3BO3", "ZnO", "Ca(H2PO4)2",
         "MgSO4", "Na2MoO4", "NaCl", "Al2Si2O9H4", "Mg3Si4O10(OH)2", "KAlSi3O8"},
        HazardClass::alkaline);
    check_all({"H2SO4", "H3PO4", "HNO3", "HCl", "KHSO4", "NaHSO4", "NH4HSO4"}, HazardClass::acid);
    check_none({"KH2PO4", "H3BO3", "MgSO4.H2O", "MgSH2O5", "Ca(H2PO4)2.H2O", "(NH4)2SO4"},
               HazardClass::acid);
  }

  TEST_CASE("crystal water, copper and toxic elements are seen") {
    check_all({"CuSO4.5H2O", "FeSO4.7H2O", "CaSO4.2H2O"}, HazardClass::hydrated_salt);
    check_all({"CuSO4.5H2O", "Cu2O", "Cu"}, HazardClass::copper);
    check_all({"Na2SeO4", "H3BO3", "NiSO4", "Na2MoO4", "CdO", "PbO", "As2O3"},
              HazardClass::toxic_element);
    CHECK(of("Na2SeO4").find(HazardClass::toxic_element)->detail == "Se");
  }

  TEST_CASE("the family is clear where the compound is") {
    const std::initializer_list<std::pair<const char*, const char*>> known{
        {"NH4NO3", "ammonium-nitrate"},
        {"H4N2O3", "ammonium-nitrate"},
        {"CO(NH2)2", "urea"},
        {"CH4N2O", "urea"},
        {"CaO", "lime"},
        {"Ca(OH)2", "lime"},
        {"CuSO4.5H2O", "copper-compounds"},
        {"CuSO9H10", "copper-compounds"},
        {"KNO3", "potassium-nitrate"},
        {"KCl", "potassium-chloride"},
        {"(NH4)2SO4", "ammonium-sulfate"},
        {"NH4H2PO4", "monoammonium-phosphate"},
        {"(NH4)2HPO4", "diammonium-phosphate"},
        {"FeSO4.7H2O", "metal-sulfates"},
        {"MgSO4.H2O", "magnesium-sulfate"},
        {"S8", "elemental-sulfur"},
        {"CaMg(CO3)2", "limestone"}};
    for (const auto& [formula, family] : known) {
      const std::string told(formula);
      CAPTURE(told);
      CHECK(family_of_formula(formula) == family);
    }
    for (const char* formula : {"(NH4)2CO3", "KNO2", "H2S", "MgSO3", "C2", "Xx", "K2CO3"}) {
      CAPTURE(std::string(formula));
      if (std::string_view(formula) != "C2") CHECK(family_of_formula(formula).empty());
    }
  }
}

#include <doctest/doctest.h>
#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <string_view>

using namespace leastwise;
using doctest::Approx;

namespace {

double percent_of(const std::vector<Content>& contents, std::string_view name) {
  for (const Content& content : contents) {
    if (content.name == name) return content.percent;
  }
  return 0;
}

/// Checks that `formula` is refused at `offset` with exactly this message.
void check_refused(std::string_view formula, std::size_t offset, std::string_view message) {
  CAPTURE(formula);
  try {
    (void)molar_mass(formula);
    FAIL_CHECK("was accepted");
  } catch (const FormulaError& error) {
    CHECK(error.offset() == offset);
    CHECK(std::string(error.what()) == message);
  }
}

}  // namespace

TEST_SUITE("molar mass") {
  TEST_CASE("elements, counts and groups add up") {
    CHECK(molar_mass("S") == Approx(32.06));
    CHECK(molar_mass("K2O") == Approx(2 * 39.0983 + 15.999));
    CHECK(molar_mass("Ca(NO3)2") == Approx(40.078 + 2 * (14.007 + 3 * 15.999)));
    CHECK(molar_mass("[Cu(NH3)4]SO4") ==
          Approx(63.546 + 4 * (14.007 + 3 * 1.008) + 32.06 + 4 * 15.999));
  }

  TEST_CASE("CO is carbon monoxide and Co is cobalt") {
    CHECK(molar_mass("CO") == Approx(12.011 + 15.999));
    CHECK(molar_mass("Co") == Approx(58.933194));
  }

  TEST_CASE("hydrate parts may be joined by a dot, a star or the middle dot") {
    const double expected = 65.38 + 32.06 + 4 * 15.999 + 7 * (2 * 1.008 + 15.999);
    CHECK(molar_mass("ZnSO4.7H2O") == Approx(expected));
    CHECK(molar_mass("ZnSO4*7H2O") == Approx(expected));
    CHECK(molar_mass("ZnSO4\xC2\xB7"
                     "7H2O") == Approx(expected));
  }

  TEST_CASE("a number before a part multiplies all of it, and may be decimal") {
    const double water = 2 * 1.008 + 15.999;
    const double anhydrite = 40.078 + 32.06 + 4 * 15.999;
    CHECK(molar_mass("CaSO4.0.5H2O") == Approx(anhydrite + 0.5 * water));
    CHECK(molar_mass("2CaSO4.H2O") == Approx(2 * anhydrite + water));
    CHECK(molar_mass("5Ca(NO3)2.NH4NO3.10H2O") == Approx(1080.623));
  }

  TEST_CASE("the dot behind a count joins parts: SO4.5H2O is not four and a half") {
    CHECK(molar_mass("CuSO4.5H2O") == Approx(63.546 + 32.06 + 4 * 15.999 + 5 * 18.015));
  }

  TEST_CASE("the deepest, largest formula that is accepted has a finite mass") {
    std::string formula = "Bi9999";
    for (int depth = 0; depth < 8; ++depth) formula = "(" + formula + ")9999";
    CHECK(std::isfinite(molar_mass("9999" + formula)));
  }
}

TEST_SUITE("formulas that cannot be read") {
  TEST_CASE("nothing, and things that are no element") {
    check_refused("", 0, "expected a chemical formula such as ZnSO4.H2O, found nothing");
    check_refused("zno", 0, "expected an element symbol such as Zn, found 'z'");
    check_refused("ZnXx", 2, "unknown element 'Xx'");
    check_refused("Zno", 0, "unknown element 'Zno'");
    check_refused(" ZnO", 0, "expected an element symbol such as Zn, found ' '");
    check_refused("ZnO ", 3, "expected an element symbol, a count, a bracket or a dot, found ' '");
    check_refused("SO4-2", 3, "expected an element symbol, a count, a bracket or a dot, found '-'");
    check_refused("H\xE2\x82\x82O", 1,
                  "expected an element symbol, a count, a bracket or a dot, found '\xE2\x82\x82'");
  }

  TEST_CASE("a small letter where a symbol should start") {
    check_refused("K2o", 2,
                  "expected an element symbol, which starts with a capital letter, found 'o'");
  }

  TEST_CASE("brackets that do not match") {
    check_refused("Ca(NO3", 2, "'(' has no matching ')'");
    check_refused("[Fe(CN)6", 0, "'[' has no matching ']'");
    check_refused("CaNO3)2", 5, "nothing is open that ')' could close");
    check_refused("Ca(NO3]2", 6, "nothing is open that ']' could close");
    check_refused("Ca()2", 2, "nothing stands between these brackets");
    check_refused("Ca(NO3.H2O)2", 6,
                  "expected an element symbol, a count, a bracket or a dot, found '.'");
  }

  TEST_CASE("counts and numbers that make no sense") {
    check_refused("ZnO0", 3, "a count starts with a digit from 1 to 9");
    check_refused("H02O", 1, "a count starts with a digit from 1 to 9");
    check_refused("Zn99999", 2, "a number may have at most 4 digits");
    check_refused("ZnSO4.0H2O", 6, "the number before a part must be greater than 0");
    check_refused("ZnSO4.0.0H2O", 6, "the number before a part must be greater than 0");
    check_refused("7", 1, "expected an element symbol such as Zn, found the end");
  }

  TEST_CASE("dots that join nothing") {
    check_refused("ZnSO4.", 6, "expected an element symbol such as Zn, found the end");
    check_refused("ZnSO4..H2O", 6, "expected an element symbol such as Zn, found '.'");
    check_refused(".H2O", 0, "expected an element symbol such as Zn, found '.'");
    check_refused("\xC2\xB7H2O", 0, "expected an element symbol such as Zn, found '\xC2\xB7'");
    check_refused("ZnSO4.2.H2O", 7, "expected an element symbol such as Zn, found '.'");
  }

  TEST_CASE("what is far larger than a compound is refused, however deep it nests") {
    check_refused(std::string(201, 'S'), 200, "a formula may have at most 200 characters");
    check_refused(std::string(100000, '('), 200, "a formula may have at most 200 characters");
    check_refused(std::string(50, '(').append("S").append(50, ')'), 8,
                  "brackets may be nested at most 8 deep");
  }
}

TEST_SUITE("any text as a formula") {
  TEST_CASE("a random text is read with a sound mass, or refused at a place inside it") {
    constexpr std::string_view alphabet = "CHNOSKZnabu()[].*0123456789\xC2\xB7 -";
    std::mt19937 random(20260301);
    int read = 0;
    int refused = 0;
    for (int i = 0; i < 50000; ++i) {
      std::string text(random() % 12, ' ');
      for (char& c : text) c = alphabet[random() % alphabet.size()];
      CAPTURE(text);
      try {
        const double mass = molar_mass(text);
        CHECK((std::isfinite(mass) && mass > 0));
        for (const Content& content : contents_of_formula(text))
          CHECK(content.percent <= 100 + 1e-9);
        ++read;
      } catch (const FormulaError& error) {
        CHECK(error.offset() <= text.size());
        ++refused;
      }
    }
    CHECK(read > 100);
    CHECK(refused > 100);
  }
}

TEST_SUITE("contents of a formula") {
  TEST_CASE("nutrients come in label order, hydrogen, carbon and oxygen are left out") {
    const auto contents = contents_of_formula("CO(NH2)2");
    REQUIRE(contents.size() == 2);
    CHECK(contents[0].name == "N");
    CHECK(contents[1].name == "N-urea");
    const auto sulfate = contents_of_formula("(NH4)2Fe(SO4)2.6H2O");
    REQUIRE(sulfate.size() == 4);
    CHECK(sulfate[0].name == "N");
    CHECK(sulfate[1].name == "S");
    CHECK(sulfate[2].name == "Fe");
    CHECK(sulfate[3].name == "N-ammonium");
  }

  TEST_CASE("elements that are no nutrients are left out, but weigh") {
    const auto contents = contents_of_formula("KAl(SO4)2.12H2O");
    REQUIRE(contents.size() == 2);
    CHECK(percent_of(contents, "K") == Approx(100 * 39.0983 / molar_mass("KAl(SO4)2.12H2O")));
    CHECK(contents_of_formula("H2O").empty());
  }

  TEST_CASE("purity scales every content") {
    const auto pure = contents_of_formula("ZnSO4.H2O");
    const auto traded = contents_of_formula("ZnSO4.H2O", 97);
    REQUIRE(pure.size() == traded.size());
    for (std::size_t i = 0; i < pure.size(); ++i) {
      CHECK(traded[i].percent == Approx(0.97 * pure[i].percent));
    }
    CHECK(percent_of(contents_of_formula("S", 0), "S") == 0);
  }

  TEST_CASE("a purity outside 0 to 100 percent is refused") {
    for (const double purity : {-1.0, 100.5, std::numeric_limits<double>::quiet_NaN(),
                                std::numeric_limits<double>::infinity()}) {
      CHECK_THROWS_AS((void)contents_of_formula("ZnO", purity), std::invalid_argument);
    }
  }

  TEST_CASE("ammonium, nitrate and urea nitrogen are told apart") {
    const auto mixed = contents_of_formula("CO(NH2)2.NH4NO3");
    CHECK(percent_of(mixed, "N-urea") == Approx(percent_of(mixed, "N") / 2));
    CHECK(percent_of(mixed, "N-ammonium") == Approx(percent_of(mixed, "N") / 4));
    CHECK(percent_of(mixed, "N-nitrate") == Approx(percent_of(mixed, "N") / 4));
  }

  TEST_CASE("urea is known in each of its usual spellings") {
    for (const char* formula :
         {"CO(NH2)2", "(NH2)2CO", "NH2CONH2", "H2NCONH2", "CaSO4.4CO(NH2)2", "[CO(NH2)2]"}) {
      CAPTURE(formula);
      const auto contents = contents_of_formula(formula);
      CHECK(percent_of(contents, "N") > 10);
      CHECK(percent_of(contents, "N-urea") == Approx(percent_of(contents, "N")));
    }
  }

  TEST_CASE("ammonium is found inside brackets and in double salts") {
    for (const char* formula : {"NH4Cl", "(NH4)2HPO4", "[NH4]2SO4", "MgNH4PO4.6H2O"}) {
      CAPTURE(formula);
      const auto contents = contents_of_formula(formula);
      CHECK(percent_of(contents, "N-ammonium") == Approx(percent_of(contents, "N")));
    }
  }

  TEST_CASE("nitrogen in other bonds has no form") {
    for (const char* formula :
         {"NH3", "NaNO2", "N2H4", "C2H5N3O2", "Na2ZnC10H12N2O8.2H2O", "CaCN2", "CH5NO3"}) {
      CAPTURE(formula);
      const auto contents = contents_of_formula(formula);
      CHECK(percent_of(contents, "N") > 0);
      for (const char* form : {"N-urea", "N-ammonium", "N-nitrate"}) {
        CHECK(percent_of(contents, form) == 0);
      }
    }
  }
}

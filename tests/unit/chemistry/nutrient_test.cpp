#include <doctest/doctest.h>
#include <leastwise/nutrient.hpp>

#include <set>
#include <string>
#include <string_view>

using namespace leastwise;
using doctest::Approx;

namespace {
constexpr std::string_view elements[] = {"N", "P",  "K",  "S",  "Ca", "Mg", "Na", "Cl", "Si",
                                         "B", "Cu", "Fe", "Mn", "Mo", "Zn", "Co", "Ni", "Se"};
constexpr std::string_view oxides[] = {"P2O5", "K2O", "SO3", "CaO", "MgO", "Na2O", "SiO2"};
constexpr std::string_view forms[] = {"N-urea", "N-ammonium", "N-nitrate",
                                      "N-slow", "P2O5-water", "P2O5-citrate"};
}  // namespace

TEST_SUITE("nutrient names") {
  TEST_CASE("the known names are the elements, the oxides and the forms, each once") {
    std::set<std::string_view> expected(std::begin(elements), std::end(elements));
    expected.insert(std::begin(oxides), std::end(oxides));
    expected.insert(std::begin(forms), std::end(forms));
    const auto names = known_names();
    CHECK(std::set<std::string_view>(names.begin(), names.end()) == expected);
    CHECK(names.size() == expected.size());
    CHECK(names.front() == "N");
    CHECK(names.back() == "P2O5-citrate");
  }

  TEST_CASE("every name has its kind, and names are case-sensitive") {
    for (const auto name : elements) CHECK(kind_of(name) == NameKind::element);
    for (const auto name : oxides) CHECK(kind_of(name) == NameKind::oxide);
    for (const auto name : forms) CHECK(kind_of(name) == NameKind::form);
    for (const char* name : {"", "Cd", "biuret", "n", "p2o5", "ZnO", "N-", "N-total", "H", "O"}) {
      CAPTURE(name);
      CHECK(kind_of(name) == NameKind::property);
    }
  }

  TEST_CASE("a form belongs to its nutrient, nothing else has a parent") {
    CHECK(parent_of_form("N-urea") == "N");
    CHECK(parent_of_form("N-slow") == "N");
    CHECK(parent_of_form("P2O5-water") == "P2O5");
    CHECK(parent_of_form("P2O5-citrate") == "P2O5");
    CHECK_FALSE(parent_of_form("N").has_value());
    CHECK_FALSE(parent_of_form("P2O5").has_value());
    CHECK_FALSE(parent_of_form("N-total").has_value());
  }

  TEST_CASE("the element behind elements and oxides") {
    CHECK(element_of("P2O5") == "P");
    CHECK(element_of("K2O") == "K");
    CHECK(element_of("SO3") == "S");
    CHECK(element_of("CaO") == "Ca");
    CHECK(element_of("MgO") == "Mg");
    CHECK(element_of("Na2O") == "Na");
    CHECK(element_of("SiO2") == "Si");
    CHECK(element_of("Zn") == "Zn");
    CHECK_FALSE(element_of("N-urea").has_value());
    CHECK_FALSE(element_of("Cd").has_value());
  }

  TEST_CASE("answers outlive the text that was asked with") {
    std::string_view answer;
    {
      const std::string asked = "P2O5-water";
      answer = *parent_of_form(asked);
    }
    CHECK(answer == "P2O5");
    {
      const std::string asked = "Zn";
      answer = *element_of(asked);
    }
    CHECK(answer == "Zn");
  }

  TEST_CASE("the micronutrients are B Cu Fe Mn Mo Zn Co Ni Se") {
    const std::set<std::string_view> micronutrients = {"B",  "Cu", "Fe", "Mn", "Mo",
                                                       "Zn", "Co", "Ni", "Se"};
    for (const auto name : known_names()) {
      CAPTURE(name);
      CHECK(is_micronutrient(name) == micronutrients.contains(name));
    }
  }
}

TEST_SUITE("conversion") {
  TEST_CASE("every oxide converts to its element and back without loss") {
    for (const auto source : {FactorSource::atomic_weights, FactorSource::eu_2019_1009}) {
      for (const auto oxide : oxides) {
        CAPTURE(oxide);
        const auto down = conversion_factor(oxide, *element_of(oxide), source);
        const auto up = conversion_factor(*element_of(oxide), oxide, source);
        if (oxide == "SiO2" && source == FactorSource::eu_2019_1009) {
          CHECK_FALSE(down.has_value());
          CHECK_FALSE(up.has_value());
          continue;
        }
        REQUIRE(down.has_value());
        REQUIRE(up.has_value());
        CHECK(*down > 0.3);
        CHECK(*down < 0.9);
        CHECK(*down * *up == Approx(1).epsilon(1e-14));
      }
    }
  }

  TEST_CASE("the same name converts to itself exactly, whatever it is") {
    for (const auto name : known_names()) CHECK(conversion_factor(name, name) == 1.0);
    CHECK(conversion_factor("SiO2", "SiO2", FactorSource::eu_2019_1009) == 1.0);
    CHECK(conversion_factor("Cd", "Cd") == 1.0);
  }

  TEST_CASE("names without a common element do not convert") {
    CHECK_FALSE(conversion_factor("P2O5", "K").has_value());
    CHECK_FALSE(conversion_factor("N", "P").has_value());
    CHECK_FALSE(conversion_factor("Cd", "biuret").has_value());
  }

  TEST_CASE("a form converts to nothing but itself") {
    CHECK_FALSE(conversion_factor("N-urea", "N").has_value());
    CHECK_FALSE(conversion_factor("N", "N-urea").has_value());
    CHECK_FALSE(conversion_factor("P2O5-water", "P2O5").has_value());
    CHECK_FALSE(conversion_factor("P2O5-water", "P").has_value());
    CHECK_FALSE(conversion_factor("P2O5-water", "P2O5-citrate").has_value());
  }

  TEST_CASE("calculations use atomic weights unless the regulation's factors are asked for") {
    // 2 x 30.973761998 / (2 x 30.973761998 + 5 x 15.999)
    CHECK(*conversion_factor("P2O5", "P") == Approx(0.4364268187).epsilon(1e-9));
    CHECK(conversion_factor("P2O5", "P", FactorSource::eu_2019_1009) == 0.436);
  }
}

TEST_SUITE("atomic weights") {
  TEST_CASE("the elements of every nutrient have a weight, unknown symbols have none") {
    for (const auto name : elements) {
      CAPTURE(name);
      CHECK(atomic_weight(name).value_or(0) > 10);
    }
    CHECK(atomic_weight("H") == 1.008);
    CHECK(atomic_weight("Bi") == 208.98040);
    for (const char* symbol : {"", "h", "Tc", "Pm", "Xx", "P2O5"}) {
      CAPTURE(symbol);
      CHECK_FALSE(atomic_weight(symbol).has_value());
    }
  }
}

#include <doctest/doctest.h>
#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <array>
#include <cmath>

#include "reference/nutrients/published.hpp"

using namespace leastwise;
using published::percent_of;

namespace {

/// Half a unit of the fourth decimal, to which the table is printed, and a hair for arithmetic.
constexpr double printed_precision = 0.5e-4 + 1e-9;

constexpr std::array<std::string_view, 14> nutrients = {
    "N", "P2O5", "K2O", "S", "Ca", "Mg", "B", "Cu", "Zn", "Mn", "Fe", "Mo", "Na", "Cl"};

double pure_percent(const std::vector<Content>& contents, std::string_view nutrient) {
  const auto element = *element_of(nutrient);
  return percent_of(contents, element) * *conversion_factor(element, nutrient);
}

}  // namespace

// Source: computed from the formulas and the IUPAC atomic weights by other means than this library.
TEST_SUITE("pure compounds") {
  TEST_CASE("molar masses agree to all printed decimals") {
    const Table table = published::table("pure_compounds.csv");
    CHECK(table.size() == 53);
    for (std::size_t row = 0; row < table.size(); ++row) {
      CAPTURE(table.text(row, "formula"));
      CHECK(std::abs(molar_mass(table.text(row, "formula")) - table.number(row, "molar_mass")) <=
            printed_precision);
    }
  }

  TEST_CASE("contents agree to all printed decimals, and an empty field means none") {
    const Table table = published::table("pure_compounds.csv");
    for (std::size_t row = 0; row < table.size(); ++row) {
      CAPTURE(table.text(row, "formula"));
      const auto contents = contents_of_formula(table.text(row, "formula"));
      for (const std::string_view nutrient : nutrients) {
        CAPTURE(nutrient);
        const auto expected = table.optional_number(row, std::string(nutrient) + "_pct");
        CHECK(std::abs(pure_percent(contents, nutrient) - expected.value_or(0)) <=
              printed_precision);
      }
    }
  }

  TEST_CASE("the shares of urea, ammonium and nitrate nitrogen agree") {
    const Table table = published::table("pure_compounds.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      CAPTURE(table.text(row, "formula"));
      const auto contents = contents_of_formula(table.text(row, "formula"));
      for (const char* form : {"urea", "ammonium", "nitrate"}) {
        CAPTURE(form);
        const auto share = table.optional_number(row, "N_" + std::string(form) + "_share_pct");
        if (!share) continue;
        const double found =
            100 * percent_of(contents, "N-" + std::string(form)) / percent_of(contents, "N");
        CHECK(std::abs(found - *share) <= printed_precision);
        ++checked;
      }
    }
    CHECK(checked == 27);  // nine compounds with three forms
  }

  // Source: a soil course prints zinc sulfate with 55 % Zn; even the anhydrous salt holds 40.5 %.
  TEST_CASE("no zinc sulfate holds the 55 percent zinc that a course once printed") {
    for (const char* formula : {"ZnSO4", "ZnSO4.H2O", "ZnSO4.6H2O", "ZnSO4.7H2O"}) {
      CAPTURE(formula);
      CHECK(percent_of(contents_of_formula(formula), "Zn") < 40.6);
    }
  }
}

#include <doctest/doctest.h>
#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <cmath>

#include "reference/nutrients/published.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

bool from_regulation(const Table& table, std::size_t row) {
  return table.text(row, "source").starts_with("Regulation (EU) 2019/1009, Annex III Part I") &&
         table.text(row, "source").ends_with("point 10");
}

}  // namespace

TEST_SUITE("published conversion factors") {
  // Source: Regulation (EU) 2019/1009, Annex III Part I point 10.
  TEST_CASE("the regulation's six factors are given on request") {
    const Table table = published::table("conversion_factors.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      if (!from_regulation(table, row)) continue;
      CAPTURE(table.text(row, "from"));
      CHECK(conversion_factor(table.text(row, "from"), table.text(row, "to"),
                              FactorSource::eu_2019_1009) == table.number(row, "published_factor"));
      ++checked;
    }
    CHECK(checked == 6);
  }

  // Source of the column `exact_from_atomic_weights`: computed from IUPAC weights, 8 decimals.
  TEST_CASE("the default factors follow from the atomic weights") {
    const Table table = published::table("conversion_factors.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      const auto exact = table.optional_number(row, "exact_from_atomic_weights");
      if (!exact) continue;
      const std::string& from = table.text(row, "from");
      const std::string& to = table.text(row, "to");
      CAPTURE(from);
      ++checked;
      if (element_of(from) && element_of(to)) {
        CHECK(conversion_factor(from, to).value() == Approx(*exact).epsilon(1e-7));
        const auto reverse = table.optional_number(row, "reverse_exact");
        if (reverse) CHECK(conversion_factor(to, from).value() == Approx(*reverse).epsilon(1e-6));
      } else {
        // B2O3, ZnO, CuO and MnO are no names of the scenario format, but their formulas are known.
        CHECK_FALSE(conversion_factor(from, to).has_value());
        CHECK(published::percent_of(contents_of_formula(from), to) ==
              Approx(100 * *exact).epsilon(1e-7));
      }
    }
    CHECK(checked == 15);
  }

  // Source: IFA conversion table, four decimals. Its 2.2914 for P to P2O5 follows from the older
  // atomic weight 15.9994 of oxygen; today's 15.999 gives 2.2913.
  TEST_CASE("the default factors agree with the IFA table within one unit of its fourth decimal") {
    const Table table = published::table("conversion_factors.csv");
    int checked = 0;
    bool ifa = false;
    for (std::size_t row = 0; row < table.size(); ++row) {
      const std::string& source = table.text(row, "source");
      ifa = source.starts_with("IFA") || (ifa && source == "same");
      if (!ifa) continue;
      CAPTURE(table.text(row, "from"));
      const auto factor = conversion_factor(table.text(row, "from"), table.text(row, "to"));
      CHECK(std::abs(factor.value() - table.number(row, "published_factor")) <= 1e-4);
      ++checked;
    }
    CHECK(checked == 4);
  }

  // Source: IUPAC Technical Report 2013 (doi 10.1515/pac-2015-0305), and the IUPAC weights as
  // listed in the Blue Obelisk Data Repository.
  TEST_CASE("the atomic weights are those of the published list") {
    const Table table = published::table("atomic_weights.csv");
    CHECK(table.size() == 22);
    for (std::size_t row = 0; row < table.size(); ++row) {
      CAPTURE(table.text(row, "symbol"));
      CHECK(atomic_weight(table.text(row, "symbol")) == table.number(row, "atomic_weight"));
    }
  }
}

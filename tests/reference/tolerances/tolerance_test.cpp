#include <doctest/doctest.h>
#include <leastwise/tolerance.hpp>

#include <algorithm>
#include <optional>
#include <string>

#include "reference/nutrients/published.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

double below(LabelTolerance scheme, const char* nutrient, double declared, int primary = 1) {
  const auto found = allowance(scheme, nutrient, declared, primary);
  REQUIRE(found);
  return found->below;
}

/// The smaller of a share of the declared content and a cap, as the regulation's table has it.
double of_row(const Table& table, std::size_t row, const std::string& side, double declared) {
  const auto share = table.optional_number(row, side + "_rel_pct");
  const auto cap = table.optional_number(row, side + "_cap_points");
  if (!share) return *cap;
  const double part = *share / 100 * declared;
  return cap ? std::min(part, *cap) : part;
}

struct Label {
  std::string parameter{};
  std::string nutrient{};
  int primary = 1;
  std::vector<double> declared{};
};

}  // namespace

TEST_SUITE("published label tolerances") {
  // Source: Regulation (EU) 2019/1009, Annex III Part III, every row for contents.
  TEST_CASE("the European tolerances are those of the regulation") {
    const Table table = published::table("tolerance_eu_2019_1009.csv");
    const std::vector<Label> labels{
        {"N, P2O5, K2O forms, straight or other", "N", 1, {2, 6, 8, 46}},
        {"N, P2O5, K2O forms, straight or other", "P2O5", 1, {5, 46}},
        {"N, P2O5, K2O forms, straight or other", "K2O", 1, {7, 60}},
        {"N, P2O5, K2O forms, binary", "N", 2, {5, 18}},
        {"N, P2O5, K2O forms, binary", "P2O5", 2, {46}},
        {"N, P2O5, K2O forms, ternary", "N", 3, {5, 15}},
        {"N, P2O5, K2O forms, ternary", "K2O", 3, {15}},
        {"MgO, CaO, SO3", "MgO", 1, {1, 3, 10}},
        {"MgO, CaO, SO3", "CaO", 2, {3, 20}},
        {"MgO, CaO, SO3", "SO3", 3, {3, 10}},
        {"Na2O", "Na2O", 1, {2, 10}},
        {"micronutrient declared <= 2 %", "Zn", 1, {0.5, 1.2, 2}},
        {"micronutrient declared <= 2 %", "B", 3, {0.02, 2}},
        {"micronutrient declared > 2 and <= 10 %", "Zn", 2, {2.001, 5, 10}},
        {"micronutrient declared > 2 and <= 10 %", "Mn", 1, {3}},
        {"micronutrient declared > 10 %", "Cu", 1, {10.5, 25}},
    };
    int checked = 0;
    for (const auto& label : labels)
      for (std::size_t row = 0; row < table.size(); ++row) {
        if (table.text(row, "parameter") != label.parameter) continue;
        for (const double declared : label.declared) {
          CAPTURE(label.nutrient);
          CAPTURE(declared);
          const auto found =
              allowance(LabelTolerance::eu_2019_1009, label.nutrient, declared, label.primary);
          REQUIRE(found);
          CHECK(found->below == Approx(of_row(table, row, "lower", declared)).epsilon(1e-12));
          REQUIRE(found->above);
          CHECK(*found->above == Approx(of_row(table, row, "upper", declared)).epsilon(1e-12));
          CHECK(found->seen);
          ++checked;
        }
      }
    CHECK(checked == 34);
  }

  // Source: worked figures from the same regulation: straight N 46 within 2.0, N 6 within 1.5,
  // MgO 3 by -1.5 / +3, SO3 10 by -2 / +4, Zn 1.2 within 0.6, Zn 5 within 1.0.
  TEST_CASE("the European tolerances of single labels") {
    const auto eu = LabelTolerance::eu_2019_1009;
    CHECK(below(eu, "N", 46) == Approx(2.0));
    CHECK(below(eu, "N", 6) == Approx(1.5));
    CHECK(below(eu, "MgO", 3) == Approx(1.5));
    CHECK(*allowance(eu, "MgO", 3, 1)->above == Approx(3));
    CHECK(below(eu, "SO3", 10) == Approx(2));
    CHECK(*allowance(eu, "SO3", 10, 1)->above == Approx(4));
    CHECK(below(eu, "Zn", 1.2) == Approx(0.6));
    CHECK(below(eu, "Zn", 5) == Approx(1.0));
  }

  // Source: N.H. Admin. Code Agr 1105.04, Table 1105-2.
  TEST_CASE("secondary and micronutrients follow the published allowances") {
    const Table table = published::table("tolerance_us_secondary_micro.csv");
    for (std::size_t row = 0; row < table.size(); ++row) {
      const std::string& element = table.text(row, "element");
      for (const double guarantee : {0.01, 0.1, 0.5, 2.0, 10.0, 30.0}) {
        CAPTURE(element);
        CAPTURE(guarantee);
        const double wanted =
            std::min(table.number(row, "allowance_units") +
                         table.number(row, "plus_fraction_of_guarantee") * guarantee,
                     table.number(row, "max_units"));
        const auto found = allowance(LabelTolerance::aafco, element, guarantee, 3);
        REQUIRE(found);
        CHECK(found->below == Approx(wanted).epsilon(1e-12));
        CHECK(found->seen);
        CHECK_FALSE(found->above);
      }
    }
    CHECK(table.size() == 12);
    // Worked figures from that table.
    CHECK(below(LabelTolerance::aafco, "Zn", 2) == Approx(0.205));
    CHECK(below(LabelTolerance::aafco, "Ca", 20) == Approx(1.0));
    CHECK(below(LabelTolerance::aafco, "B", 0.5) == Approx(0.078));
  }

  // Source: from memory, except N above 32 %, 0.88, from a published summary of the allowances.
  TEST_CASE("primary nutrients say that their allowances are from memory") {
    const auto us = LabelTolerance::aafco;
    CHECK(below(us, "N", 40) == Approx(0.88));
    CHECK(allowance(us, "N", 40, 1)->seen);
    const auto found = allowance(us, "N", 11, 3);
    REQUIRE(found);
    CHECK(found->below == Approx((0.58 + 0.61) / 2));
    CHECK_FALSE(found->seen);
    CHECK(found->source.find("from memory") != std::string::npos);
    CHECK(below(us, "K2O", 2) == Approx(0.41));
    CHECK_FALSE(allowance(us, "P2O5", 46, 1));
  }

  TEST_CASE("a nutrient stated in its other form has the same allowance, converted") {
    // 10 % SO3 is 4.005 % S; 2 points of SO3 are 0.801 of S.
    const double share = 32.06 / (32.06 + 3 * 15.999);
    CHECK(below(LabelTolerance::eu_2019_1009, "S", 10 * share) == Approx(2 * share).epsilon(1e-3));
    CHECK_FALSE(allowance(LabelTolerance::eu_2019_1009, "Cd", 1, 1));
    CHECK_THROWS_AS(static_cast<void>(allowance(LabelTolerance::aafco, "N", 101, 1)),
                    std::invalid_argument);
  }
}

#include <leastwise/micronutrient.hpp>

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>

#include <string>

#include "reference/nutrients/published.hpp"

using namespace leastwise;

namespace {

constexpr double kg_per_ha_of_lb_per_acre = 0.45359237 / 0.40468564224;  // by definition of both

Placement placement_of(const std::string& word) {
  return word == "coated"     ? Placement::coated
         : word == "granular" ? Placement::granular
                              : Placement::soil;
}

}  // namespace

TEST_SUITE("micronutrients against published figures") {
  // Sources: NOFA soil manual Table 27; an extension table of boron rates; common practice of
  // coating. Each row of the data names its own.
  TEST_CASE("published ranges of rates are usual to us, and far below every ceiling") {
    const Table theirs = published::table("micronutrient_rates.csv");
    REQUIRE(theirs.size() == 10);
    for (std::size_t row = 0; row < theirs.size(); ++row) {
      CAPTURE(row);
      const Micronutrient* const ours = find_micronutrient(theirs.text(row, "element"));
      REQUIRE(ours != nullptr);
      const double unit = theirs.text(row, "unit") == "lb/acre" ? kg_per_ha_of_lb_per_acre : 1;
      const double least = theirs.number(row, "least") * unit;
      const double most = theirs.number(row, "most") * unit;
      const UsualRate& usual = ours->usual(placement_of(theirs.text(row, "placement")));
      // Ours are rounded outwards to two or three digits, the lower end of Mn taken from coatings.
      CHECK(usual.from <= least);
      CHECK(usual.to >= most);
      CHECK(usual.to <= 1.02 * most);
      CHECK(ours->ceiling_kg_per_ha >= 2 * most);
    }
  }

  // Source: Regulation (EU) 2019/1009, least contents of fertilizers with micronutrients.
  TEST_CASE("a carrier of a micronutrient holds what the law asks of a micronutrient fertilizer") {
    const Table theirs = published::table("micronutrient_minima.csv");
    REQUIRE(theirs.size() == 7);
    for (std::size_t row = 0; row < theirs.size(); ++row) {
      const std::string element = theirs.text(row, "element");
      CAPTURE(element);
      const double ours = find_micronutrient(element)->carried_from_percent;
      CHECK(ours > theirs.number(row, "declarable_percent"));
      if (element == "Fe")  // clay, slag and rock hold a few percent; 5 is the least of a chelate
        CHECK(ours == 5);
      else
        CHECK(ours == theirs.number(row, "compound_percent"));
    }
  }

  TEST_CASE("the built-in micronutrient materials carry what they are bought for, others nothing") {
    for (const auto& material : built_in_materials()) {
      CAPTURE(material.name);
      bool holds = false;
      for (const auto& micronutrient : micronutrients())
        holds = holds || content_percent(material, micronutrient.element) > 0;
      CHECK(carried_micronutrients(material).empty() != holds);
    }
  }
}

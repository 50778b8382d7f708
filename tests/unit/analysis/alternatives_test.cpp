#include <doctest/doctest.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/report.hpp>

#include <cmath>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

/// Per hectare, N at least 60: rich costs 60, middling 72, poor 90. Nothing else matters, so each
/// alone is a set that deserves a line, and no mixture is: its cheaper part alone costs less.
ScenarioDraft three_carriers() {
  ScenarioDraft d;
  // Of one form of N, so that none may be a nitrate.
  d.materials = {stated("rich", 460, {{"N", 46}, {"N-urea", 46}}),
                 stated("middling", 360, {{"N", 30}, {"N-urea", 30}}),
                 stated("poor", 300, {{"N", 20}, {"N-urea", 20}})};
  d.rates_kg_per_ha = {{"N", at_least(60)}};
  return d;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_SUITE("next-best blends") {
  TEST_CASE("carriers of one nutrient follow in the order of their price per kg of it") {
    const auto list = alternatives(Scenario(three_carriers()), 10);
    REQUIRE(list.outcome.status == Status::optimal);
    REQUIRE(list.list.size() == 3);
    CHECK(list.exhausted);
    CHECK(list.list[0].materials == Names{"rich"});
    CHECK(list.list[1].materials == Names{"middling"});
    CHECK(list.list[2].materials == Names{"poor"});
    CHECK(list.list[0].cost == doctest::Approx(60));
    CHECK(list.list[1].difference == doctest::Approx(12));
    CHECK(list.list[2].difference == doctest::Approx(30));
  }

  TEST_CASE("two suppliers at one price are two lines, their mixture is none") {
    auto draft = three_carriers();
    draft.materials.push_back(stated("rich-too", 460, {{"N", 46}}));
    const auto list = alternatives(Scenario(draft), 2);
    REQUIRE(list.list.size() == 2);
    CHECK(list.list[0].cost == doctest::Approx(60));
    CHECK(list.list[1].cost == doctest::Approx(60));
    CHECK(list.list[0].materials.size() == 1);
    CHECK(list.list[1].materials.size() == 1);
    CHECK(list.list[0].materials != list.list[1].materials);
    CHECK_FALSE(list.exhausted);
  }

  TEST_CASE("a material that must have its share is in every set") {
    auto draft = three_carriers();
    draft.materials[2].share_percent = at_least(10);
    const auto list = alternatives(Scenario(draft), 10);
    REQUIRE(list.list.size() == 3);  // rich with poor, middling with poor, poor alone
    for (const auto& line : list.list) CHECK(line.materials.back() == "poor");
    CHECK(list.list.back().materials == Names{"poor"});
  }

  TEST_CASE("families kept apart never share a set") {
    auto draft = carrier_and_filler();
    draft.materials.push_back(stated("weak", 90, {{"N", 20}}));
    draft.incompatible = {{"weak", "filler"}};
    const auto list = alternatives(Scenario(draft), 10);
    REQUIRE(list.list.size() >= 2);
    CHECK(list.list[0].materials == Names{"weak"});  // 90 per tonne and 20 % N
    for (const auto& line : list.list) {
      const bool weak =
          std::find(line.materials.begin(), line.materials.end(), "weak") != line.materials.end();
      const bool filler =
          std::find(line.materials.begin(), line.materials.end(), "filler") != line.materials.end();
      CHECK_FALSE((weak && filler));
    }
  }

  TEST_CASE("an impossible scenario has no sets but the conflict") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(41)}};
    const auto list = alternatives(Scenario(draft), 5);
    CHECK(list.outcome.status == Status::infeasible);
    CHECK(list.outcome.conflict);
    CHECK(list.list.empty());
  }

  TEST_CASE("less than one blend is no question") {
    CHECK_THROWS_AS((void)alternatives(Scenario(three_carriers()), 0), std::invalid_argument);
  }
}

TEST_SUITE("blends near the optimum") {
  /// Per hectare N at least 60 and S at least 10: rich (46 % N, 460), sulfur (90 % S, 1800) and
  /// both (20 % N, 24 % S, 240). Cheapest: both 41.67 kg for the S, its N for the rest.
  ScenarioDraft two_needs() {
    ScenarioDraft d;
    d.materials = {stated("rich", 460, {{"N", 46}}), stated("both", 240, {{"N", 20}, {"S", 24}}),
                   stated("sulfur", 1800, {{"S", 90}})};
    d.rates_kg_per_ha = {{"N", at_least(60)}, {"S", at_least(10)}};
    return d;
  }

  TEST_CASE("the fewest materials within a fifth more: one that serves both needs") {
    // Cheapest 60 + 10 / 6 = 61.67 of two materials; all from `both`: 300 kg at 72, 17 % more.
    const Scenario scenario(two_needs());
    const auto near = near_optimum(scenario, 20, SecondaryObjective::fewest_materials);
    REQUIRE(near.outcome.status == Status::optimal);
    CHECK(*near.best_cost == doctest::Approx(60 + 10.0 / 6));
    CHECK(near.value_at_best == 2);
    CHECK(near.value == 1);
    CHECK(*near.cost == doctest::Approx(72));
    REQUIRE(near.blend->portions.size() == 1);
    CHECK(near.blend->portions[0].material == "both");
    CHECK(near_optimum(scenario, 16, SecondaryObjective::fewest_materials).value == 2);
  }

  TEST_CASE("the least mass trades cost for concentration up to the allowance") {
    // Rich with sulfur only: 130.43 + 11.11 = 141.55 kg at 60 + 20 = 80.
    const auto free = near_optimum(Scenario(two_needs()), 100, SecondaryObjective::least_mass);
    CHECK(*free.value == doctest::Approx(60 / 0.46 + 10 / 0.9));
    CHECK(*free.cost == doctest::Approx(80));
    const auto tight = near_optimum(Scenario(two_needs()), 5, SecondaryObjective::least_mass);
    CHECK(*tight.cost == doctest::Approx(1.05 * (60 + 10.0 / 6)));
    CHECK(tight.value > free.value);
    CHECK(tight.value < tight.value_at_best);
  }

  TEST_CASE("the least of a property is as low as the allowance lets it be") {
    auto draft = two_needs();
    draft.materials[1].contains_percent->push_back({"Cl", 10});
    const auto near = near_optimum(Scenario(draft), 100, SecondaryObjective::least_of, "Cl");
    CHECK(*near.value == doctest::Approx(0));
    CHECK(*near.cost == doctest::Approx(80));
    CHECK(to_csv(near).find("\nleast of Cl,") != std::string::npos);
    if (near.value < 1e-9) CHECK(to_text(near).find("than 0") == std::string::npos);
    const auto none = near_optimum(Scenario(draft), 0, SecondaryObjective::least_of, "Cl");
    CHECK(*none.value == doctest::Approx(*none.value_at_best).epsilon(1e-6));
  }

  TEST_CASE("questions that make no sense are refused") {
    const Scenario scenario(two_needs());
    CHECK_THROWS_AS((void)near_optimum(scenario, -1, SecondaryObjective::fewest_materials),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)near_optimum(scenario, NAN, SecondaryObjective::fewest_materials),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)near_optimum(scenario, 5, SecondaryObjective::least_of, "Cd"),
                    std::invalid_argument);
    CHECK_THROWS_AS(
        (void)near_optimum(Scenario(carrier_and_filler()), 5, SecondaryObjective::least_mass),
        std::invalid_argument);
  }
}

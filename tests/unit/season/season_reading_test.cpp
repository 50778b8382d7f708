#include <doctest/doctest.h>
#include <leastwise/season_load.hpp>

#include <string>

using namespace leastwise;

namespace {

constexpr std::string_view short_season = R"(leastwise: 1
season: Short
blends:
  a:
    tonnes: {min: 5, max: 8}
    price_per_t: 700
    scenario: {currency: USD, materials: {urea: {price_per_t: 430}, clay-filler: {price_per_t: 40}},
               grade_percent: {N: {min: 20}}}
  b:
    hectares: 40
    scenario: {currency: USD, materials: {urea: {price_per_t: 430}},
               rates_kg_per_ha: {N: {min: 60}}}
stock_kg: {urea: {min: 1000, max: 9000}, clay-filler: 500}
)";

}  // namespace

TEST_SUITE_BEGIN("season_load");

TEST_CASE("a season holds what its file says") {
  const Season season = parse_season(short_season);
  CHECK(season.title() == "Short");
  CHECK(season.currency() == "USD");
  REQUIRE(season.blends().size() == 2);
  CHECK(season.blends()[0].amount == Limits{5, 8});
  CHECK(season.blends()[0].price_per_t == 700);
  CHECK(season.blends()[1].amount == Limits{40, 40});
  CHECK(season.blends()[1].place.line == 10);
  REQUIRE(season.shared().size() == 2);
  CHECK(season.shared()[0].kg == Limits{1000, 9000});
  CHECK_FALSE(season.shared()[1].kg.has_min());
  CHECK(season.shared()[1].kg.max == 500);
}

TEST_CASE("what arrives later counts from its period on") {
  const Season season = parse_season(R"(leastwise: 1
periods: [march, april, may]
blends:
  a:
    {tonnes: 5, period: may, scenario: {materials: {urea: {price_per_t: 430}}, grade_percent: {N: {min: 20}}}}
stock_kg: {urea: 1000}
supply_kg: {urea: {may: 500}}
storage_per_t: {urea: 3}
)");
  REQUIRE(season.shared().size() == 2);
  CHECK(season.shared()[0].period == 1);
  CHECK(season.shared()[0].kg.max == 1000);
  CHECK(season.shared()[1].period == 2);
  CHECK(season.shared()[1].kg.max == 1500);
  CHECK(season.storage()[0].kg == std::vector<double>{1000, 1000, 1500});
  CHECK(season.blends()[0].period == 2);
}

TEST_CASE("a season made in code is checked like a file") {
  CHECK_THROWS_AS(Season(SeasonDraft{}), InputError);
}

TEST_SUITE_END();

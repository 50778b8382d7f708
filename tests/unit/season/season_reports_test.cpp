#include <doctest/doctest.h>
#include <leastwise/render.hpp>
#include <leastwise/run.hpp>
#include <leastwise/season_load.hpp>

#include <nlohmann/json.hpp>
#include <string>

using namespace leastwise;

namespace {

/// `low` may take map or tsp, `high` map alone: 4 t of it.
constexpr std::string_view season_text = R"(leastwise: 1
season: Two grades
blends:
  low:
    tonnes: 12
    scenario:
      currency: USD
      materials: {map: {price_per_t: 600}, tsp: {price_per_t: 800}, clay-filler: {price_per_t: 40}}
      grade_percent: {P2O5: {min: 23}}
  high:
    tonnes: 8
    scenario:
      currency: USD
      materials: {map: {price_per_t: 600}, clay-filler: {price_per_t: 40}}
      grade_percent: {P2O5: {min: 26}}
stock_kg: {map: STOCK}
)";

std::string with_stock(const std::string& kg) {
  std::string text(season_text);
  return text.replace(text.find("STOCK"), 5, kg);
}

bool says(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_SUITE_BEGIN("season_report");

TEST_CASE("the page names the scarce material, its users and why it pays to plan together") {
  const auto plan = plan_season(parse_season(with_stock("6000")));
  const auto text = to_text(plan);
  CHECK(text.starts_with("Two grades\n==========\n"));
  CHECK(says(text, "2 blends, 20.00 t in all"));
  CHECK(says(text, "too little would be left for high"));
  CHECK(says(text, "Who takes what is scarce"));
  CHECK(says(to_html(plan), "<svg"));
}

TEST_CASE("the lines of CSV add up to the stock") {
  const auto csv = to_csv(plan_season(parse_season(with_stock("6000"))));
  CHECK(says(csv, "portion,low,,tsp,"));
  CHECK(says(csv, "shared max,,,map,,6000,,6000,"));
}

TEST_CASE("what run answers is what the functions say, and a conflict is an answer") {
  const std::string text = with_stock("6000");
  CHECK(run("season", text, {}, {.name = "season"}) == to_json(plan_season(parse_season(text))));
  const auto json = nlohmann::json::parse(run("season", with_stock("3000")));
  CHECK(json["status"] == "infeasible");
  CHECK(json["irreducible"] == true);
  CHECK(json["conflict"].size() == 3);
  CHECK(json["conflict"][0]["of"] == "amount");
  CHECK(json["conflict"][0]["unit"] == "t");
  CHECK(json["conflict"][2]["name"] == "map");
  const auto stopped = nlohmann::json::parse(run("season", text, R"({"time_limit_s": 1e-6})"));
  CHECK(stopped["status"] == "stopped");
  CHECK(stopped["cause"] == "time_limit");
}

TEST_SUITE_END();

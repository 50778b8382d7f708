#include <doctest/doctest.h>
#include <leastwise/compare.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/question.hpp>
#include <leastwise/quote.hpp>
#include <leastwise/render.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <array>
#include <cmath>
#include <string>

using namespace leastwise;

namespace {

constexpr std::string_view us_starter = R"(leastwise: 1
currency: USD
units: us
materials:
  urea: {price_per_short_ton: 420, freight_per_short_ton: 14}
  dap: {price_per_short_ton: 640, bulk_density_lb_per_ft3: 60}
  mop: {price_per_short_ton: 385, stock_lb: 8000}
rates_lb_per_acre:
  N: {exactly: 30}
  P2O5: {min: 40}
  K2O: {min: 20, max: 45}
blend:
  total_lb_per_acre: {max: 260}
  blending_fee_per_short_ton: 16
make: {acres: 120}
quote: {overhead_per_short_ton: 6, bags: {lb: 50, price_each: 0.45}}
risk: {prices: {urea: {triangular: {min: 380, mode: 420, max: 500}}}}
variants:
  dear: {prices: {urea: 600}, rates_lb_per_acre: {K2O: {min: 30}}}
)";

constexpr double kg_per_ha_of_lb_per_acre = 0.45359237 / 0.40468564224;

Scenario us_scenario(std::string text = std::string(us_starter)) {
  return parse_scenario(text, "us.yaml");
}

/// The recipe of `us_starter`, worked by hand in lb per acre: 18-46-0 for the phosphate, urea for
/// the rest of the nitrogen, 60 % potash.
struct StarterByHand {
  double dap = 40 / 0.46;
  double urea = (30 - 0.18 * dap) / 0.46;
  double mop = 20 / 0.60;
};

}  // namespace

TEST_SUITE_BEGIN("US units");

TEST_CASE("a scenario in US units holds metric figures") {
  const Scenario scenario = us_scenario();
  const ScenarioDraft& draft = scenario.draft();
  CHECK(draft.units == Units::us);
  CHECK(scenario.materials()[0].price_per_t == doctest::Approx(420 / 0.90718474));
  CHECK(scenario.materials()[0].freight_per_t == doctest::Approx(14 / 0.90718474));
  CHECK(*scenario.materials()[1].bulk_density_kg_per_m3 == doctest::Approx(961.1).epsilon(1e-4));
  CHECK(*scenario.materials()[2].stock_kg == doctest::Approx(3628.73896));
  CHECK(scenario.rates()[0].limits.min == doctest::Approx(30 * kg_per_ha_of_lb_per_acre));
  CHECK(scenario.total_kg_per_ha().max == doctest::Approx(260 * kg_per_ha_of_lb_per_acre));
  CHECK(scenario.blending_fee_per_t() == doctest::Approx(16 / 0.90718474));
  CHECK(*scenario.make_hectares() == doctest::Approx(48.5622770688));
  CHECK(draft.quote->bags->kg == doctest::Approx(22.6796185));
  CHECK(draft.risk->prices[0].mode == doctest::Approx(420 / 0.90718474));
  CHECK(draft.variants[0].prices[0].price_per_t == doctest::Approx(600 / 0.90718474));
  CHECK(draft.variants[0].rates_kg_per_ha[0].limits.min ==
        doctest::Approx(30 * kg_per_ha_of_lb_per_acre));
}

TEST_CASE("its pages and tables are in US units, and its JSON has both") {
  const Formulation answer = formulate(us_scenario());
  REQUIRE(answer.blend() != nullptr);
  const StarterByHand hand;
  const auto& portions = answer.blend()->portions;
  REQUIRE(portions.size() == 3);
  CHECK(*portions[0].kg_per_ha == doctest::Approx(hand.dap * kg_per_ha_of_lb_per_acre));
  const std::string text = to_text(answer);
  CHECK(text.find("USD/acre") != std::string::npos);
  CHECK(text.find("at least 40") != std::string::npos);
  CHECK(text.find("86.96") != std::string::npos);  // 40 / 0.46 lb/acre
  CHECK(text.find("kg") == std::string::npos);
  CHECK(text.find("/ha") == std::string::npos);
  CHECK(to_html(answer).find("kg/") == std::string::npos);
  CHECK(to_svg(answer).find("/ha") == std::string::npos);
  const std::string csv = to_csv(answer);
  CHECK(csv.starts_with(
      "status,material,form,lb_per_acre,lb_per_short_ton,cost_per_acre,cost_per_short_ton\n"));
  CHECK(csv.find("optimal,dap,granule,86.9565217391,") != std::string::npos);
  CHECK(to_csv(answer, BlendTable::supply).find("N,lb/acre,30,30,30,30") != std::string::npos);
  const std::string json = to_json(answer);
  CHECK(json.find("\"units\": \"us\"") != std::string::npos);
  CHECK(json.find("\"lb_per_acre\": 86.9565217391") != std::string::npos);
  CHECK(json.find("\"kg_per_ha\": 97.4653179") != std::string::npos);
}

TEST_CASE("a metric scenario says nothing of US units") {
  const Scenario scenario = parse_scenario(
      "leastwise: 1\nunits: metric\nmaterials: {urea: {price_per_t: 400}}\n"
      "rates_kg_per_ha: {N: {min: 60}}\n",
      "metric.yaml");
  CHECK(scenario.draft().units == Units::metric);
  CHECK(to_json(formulate(scenario)).find("\"us") == std::string::npos);
}

TEST_CASE("prices and limits that are asked about count in the units of the scenario") {
  const Scenario scenario = us_scenario();
  const Scenario dearer = with_prices(scenario, std::array{PriceChange{"urea", 500}});
  CHECK(dearer.materials()[0].price_per_t == doctest::Approx(500 / 0.90718474));
  const Scenario more = with_limit(scenario, "rate P2O5 min", 50);
  CHECK(more.rates()[1].limits.min == doctest::Approx(50 * kg_per_ha_of_lb_per_acre));
  PricesQuestion question;
  question.vary = {{"urea", Limits{300, 700}}};
  const std::string map = to_text(std::get<PriceMap>(ask(scenario, question)));
  CHECK(map.find("from 300.00 to 700.00 USD/short ton") != std::string::npos);
  CHECK(map.find("Its price now is 420.00") != std::string::npos);
}

TEST_CASE("a quote is made for the short ton, in whole cents") {
  const Scenario scenario = us_scenario();
  const Formulation answer = formulate(scenario);
  const Quote quote = quote_of(scenario, *answer.blend());
  const StarterByHand hand;
  const double total = hand.dap + hand.urea + hand.mop;
  CHECK(*quote.tonnes == doctest::Approx(total * 120 / 2000));
  CHECK(*quote.hectares == doctest::Approx(120));
  const double materials =
      (hand.dap * 640 + hand.urea * 434 + hand.mop * 385) / total;  // USD per short ton
  CHECK(quote.per_t.materials == doctest::Approx(materials).epsilon(1e-4));
  CHECK(quote.per_t.delivered * 100 == doctest::Approx(std::round(quote.per_t.delivered * 100)));
  CHECK(*quote.delivered_per_ha ==
        doctest::Approx(quote.per_t.delivered * total / 2000));  // per acre
  const std::string json = to_json(quote, {.source = "us.yaml"});
  CHECK(json.find("\"overhead_per_short_ton\": 6.0") != std::string::npos);
  CHECK(json.find("\"short_tons\"") != std::string::npos);
  CHECK(to_text(quote, {.source = "us.yaml"}).find("bags of 50 lb") != std::string::npos);
}

TEST_CASE("limits that agree in pounds per acre are proved to agree") {
  // 20 % of 500 lb/acre are 100 lb/acre: as doubles in kg per hectare that is off by a last digit.
  const Scenario scenario = us_scenario(R"(leastwise: 1
units: us
materials:
  n: {form: granule, family: ammonium-sulfate, contains_percent: {N: 21}, price_per_short_ton: 300}
  p: {form: granule, family: dap, contains_percent: {P2O5: 46}, price_per_short_ton: 611.3}
  filler: {form: granule, family: filler, contains_percent: {Ca: 1}, price_per_short_ton: 20}
rates_lb_per_acre: {N: {exactly: 100}, P2O5: {min: 8.4}}
grade_percent: {N: {exactly: 20}}
blend: {total_lb_per_acre: {exactly: 500}}
)");
  const ProvenFormulation proven = formulate_with_proof(scenario);
  REQUIRE(proven.answer.blend() != nullptr);
  REQUIRE(proven.proof.has_value());
  const Verification verdict = verify(*proven.proof, scenario);
  CHECK(verdict.verdict == ProofVerdict::proved_optimal);
}

TEST_CASE("side by side with a metric scenario all is metric") {
  const Scenario us = us_scenario();
  const Scenario metric = parse_scenario(
      "leastwise: 1\ncurrency: USD\nmaterials: {urea: {price_per_t: 400}}\n"
      "rates_kg_per_ha: {N: {min: 60}}\n",
      "metric.yaml");
  const NamedScenario both[]{{"us", us}, {"metric", metric}};
  const std::string text = to_text(compare(both));
  CHECK(text.find("USD/ha") != std::string::npos);
  CHECK(text.find("acre") == std::string::npos);
  const NamedScenario one[]{{"us", us}, {"again", us}};
  const std::string of_one = to_text(compare(one));
  CHECK(of_one.find("USD/acre") != std::string::npos);
  CHECK(of_one.find("/ha") == std::string::npos);
}

TEST_CASE("a conflict is told in pounds per acre") {
  std::string text(us_starter);
  text.replace(text.find("max: 260"), 8, "max: 100");
  const std::string page = to_text(formulate(us_scenario(text)));
  CHECK(page.find("at most 100 lb/acre in total") != std::string::npos);
  CHECK(page.find("kg") == std::string::npos);
}

TEST_SUITE_END();

#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/report.hpp>
#include <leastwise/risk.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "analysis/risk/risk_draws.hpp"
#include "analysis/risk/risk_summary.hpp"
#include "base/numeric/normal_quantile.hpp"
#include "support/random.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

/// 46 kg/ha of N from urea with 46 % N: 100 kg/ha, so the cost per hectare is a tenth of the price.
Scenario one_good(const std::string& risk) {
  return parse_scenario(
      "leastwise: 1\n"
      "materials:\n"
      "  white: {form: granule, contains_percent: {N: 46}, price_per_t: 400}\n"
      "rates_kg_per_ha: {N: {min: 46}}\n"
      "risk: " +
      risk + "\n");
}

/// Two sources of the same nutrient, 100 kg/ha of either: the cheaper one is the blend.
Scenario two_goods(const std::string& risk, double second_price = 410) {
  return parse_scenario(
      "leastwise: 1\n"
      "materials:\n"
      "  white: {form: granule, contains_percent: {N: 46}, price_per_t: 400}\n"
      "  brown: {form: granule, contains_percent: {N: 46}, price_per_t: " +
      std::to_string(second_price) +
      "}\n"
      "rates_kg_per_ha: {N: {min: 46}}\n"
      "risk: " +
      risk + "\n");
}

double density(double z) { return std::exp(-z * z / 2) / std::sqrt(2 * std::acos(-1.0)); }

/// Standard error of the p-quantile of `n` draws of a normal variable, in its deviations.
double quantile_error(double p, double n) {
  return std::sqrt(p * (1 - p) / n) / density(normal_quantile(p));
}

}  // namespace

TEST_SUITE("spread of draws") {
  TEST_CASE("quantiles are values that were drawn, nothing in between") {
    std::vector<double> values;
    for (int v = 100; v >= 1; --v) values.push_back(v);
    const auto spread = analysis::spread_of(values);
    CHECK(spread.percent_5 == 5);
    CHECK(spread.percent_50 == 50);
    CHECK(spread.percent_95 == 95);
    CHECK(spread.least == 1);
    CHECK(spread.most == 100);
    CHECK(spread.mean == Approx(50.5));
    CHECK(spread.standard_deviation == Approx(29.011492));
    CHECK(spread.standard_error == Approx(2.9011492));
    const auto odd = analysis::spread_of({3, 1, 2});
    CHECK(odd.percent_5 == 1);
    CHECK(odd.percent_50 == 2);
    CHECK(odd.percent_95 == 3);
    const auto two = analysis::spread_of({9, 4});
    CHECK(two.percent_5 == 4);
    CHECK(two.percent_50 == 4);
    CHECK(two.percent_95 == 9);
    CHECK(std::isnan(analysis::spread_of({}).mean));
    CHECK(std::isnan(analysis::spread_of({}).standard_error));
    CHECK(std::isnan(analysis::spread_of({7}).standard_deviation));
    CHECK(analysis::spread_of({7}).percent_95 == 7);
  }

  TEST_CASE("the quantiles are those of the sorted values, whatever the order they came in") {
    support::Random random(11);
    for (std::size_t count = 1; count <= 300; ++count) {
      std::vector<double> values;
      for (std::size_t k = 0; k < count; ++k) values.push_back(random.between(-1, 1));
      const auto spread = analysis::spread_of(values);
      std::sort(values.begin(), values.end());
      CAPTURE(count);
      const auto at_share = [&](double share) {
        std::size_t k = 0;
        while (static_cast<double>(k + 1) < share * static_cast<double>(count) - 1e-9) ++k;
        return values[k];
      };
      CHECK(spread.percent_5 == at_share(0.05));
      CHECK(spread.percent_50 == at_share(0.5));
      CHECK(spread.percent_95 == at_share(0.95));
    }
  }
}

TEST_SUITE("price risk") {
  // Closed forms: the cost is a tenth of the price, so its quantiles are those of the price.
  TEST_CASE("one material: the cost's quantiles are those of its price") {
    constexpr double n = 100'000;
    const auto lognormal =
        price_risk(one_good("{draws: 100000, prices: {white: {lognormal_percent: 20}}}"));
    REQUIRE(lognormal.outcome.status == Status::optimal);
    CHECK(*lognormal.cost_today == Approx(40));
    const double s = std::sqrt(std::log(1 + 0.2 * 0.2));
    const auto normal =
        price_risk(one_good("{draws: 100000, prices: {white: {normal_percent: 15}}}"));
    for (const double p : {0.05, 0.5, 0.95}) {
      CAPTURE(p);
      const double z = normal_quantile(p);
      const double error = 5 * quantile_error(p, n);
      const auto of = [p](const Spread& spread) {
        return p < 0.1 ? spread.percent_5 : p < 0.6 ? spread.percent_50 : spread.percent_95;
      };
      CHECK(std::fabs(std::log(of(lognormal.fixed) / 40) - (s * z - s * s / 2)) < error * s);
      CHECK(std::fabs(of(normal.fixed) - (40 + 6 * z)) < error * 6);
    }
    CHECK(lognormal.flexibility.most == 0);
    CHECK(lognormal.recipes.size() == 1);
    CHECK(lognormal.recipes[0].today);
    CHECK(lognormal.recipes[0].frequency_percent == 100);
  }

  // Closed form for a triangle: min + sqrt(p (max - min)(mode - min)) below the mode.
  TEST_CASE("one material with a triangular price") {
    const auto risk = price_risk(one_good(
        "{draws: 100000, prices: {white: {triangular: {min: 300, mode: 380, max: 520}}}}"));
    CHECK(risk.fixed.percent_5 == Approx((300 + std::sqrt(0.05 * 220 * 80)) / 10).epsilon(0.003));
    CHECK(risk.fixed.percent_50 == Approx((520 - std::sqrt(0.5 * 220 * 140)) / 10).epsilon(0.003));
    CHECK(risk.fixed.percent_95 == Approx((520 - std::sqrt(0.05 * 220 * 140)) / 10).epsilon(0.003));
  }

  // Two independent normal prices a and b: E min(a, b) = ma P + mb (1 - P) - d phi(g), with
  // d = sqrt(sa^2 + sb^2), g = (mb - ma) / d, P = Phi(g) (Clark 1961, Operations Research 9).
  TEST_CASE("two sources: the worth of choosing is the expected minimum's") {
    const auto risk = price_risk(two_goods(
        "{draws: 200000, prices: {white: {normal_percent: 10}, brown: {normal_percent: 8}}}"));
    const double d = std::hypot(40, 32.8);
    const double g = 10 / d;
    const double p = normal_share_below(g);
    const double expected = (400 * p + 410 * (1 - p) - d * density(g)) / 10;
    CHECK(std::fabs(risk.reoptimised.mean - expected) < 5 * risk.reoptimised.standard_error);
    CHECK(std::fabs(risk.flexibility.mean - (40 - expected)) <
          5 * (risk.flexibility.standard_error + risk.fixed.standard_error));
    REQUIRE(risk.recipes.size() == 2);
    CHECK(risk.recipes[0].portions[0].material == "white");
    CHECK(risk.recipes[0].frequency_percent == Approx(100 * p).epsilon(0.01));
    CHECK(risk.materials[0].frequency_percent + risk.materials[1].frequency_percent == Approx(100));
    CHECK(risk.flexibility.least >= 0);
  }

  TEST_CASE("prices that move as one leave the recipe as it is") {
    const auto risk = price_risk(two_goods(
        "{draws: 2000, prices: {white: {lognormal_percent: 20}, brown: {lognormal_percent: 20}}, "
        "correlations: [{between: [white, brown], r: 1}]}"));
    CHECK(risk.recipes.size() == 1);
    CHECK(risk.flexibility.most == 0);
  }

  TEST_CASE("any number of threads gives the same bytes") {
    const auto scenario = two_goods(
        "{draws: 5000, seed: 3, prices: {white: {normal_percent: 10}, brown: {normal_percent: "
        "8}}}");
    const auto alone = price_risk(scenario, {.threads = 1});
    for (const unsigned threads : {2U, 8U}) {
      const auto many = price_risk(scenario, {.threads = threads});
      CHECK(to_json(many) == to_json(alone));
      CHECK(to_csv(many) == to_csv(alone));
      CHECK(to_text(many) == to_text(alone));
    }
  }

  TEST_CASE("sources of equal price and content count as one recipe or the other, at no gain") {
    const auto risk = price_risk(two_goods(
        "{draws: 1000, prices: {white: {normal_percent: 10}, brown: {normal_percent: 10}}, "
        "correlations: [{between: [white, brown], r: 1}]}",
        400));
    CHECK(risk.flexibility.most < 1e-9);
    CHECK(risk.draws == 1000);
  }

  TEST_CASE("a single draw knows no error, and few draws or dates are told to be coarse") {
    const auto says_coarse = [](const PriceRisk& risk) {
      return std::any_of(risk.notes.begin(), risk.notes.end(), [](const Note& note) {
        return note.text.find("coarse") != std::string::npos;
      });
    };
    const auto one = price_risk(one_good("{draws: 1, prices: {white: {lognormal_percent: 20}}}"));
    CHECK(says_coarse(one));
    const auto text = to_text(one);
    CHECK(text.find("Over 1 draw of prices") != std::string::npos);
    CHECK(text.find("+/- of mean") == std::string::npos);
    CHECK(text.find("deviation  ") == std::string::npos);
    CHECK(to_json(one).find("\"standard_error\": null") != std::string::npos);
    CHECK(to_json(one).find("\"standard_error\": 0") == std::string::npos);
    CHECK(
        says_coarse(price_risk(one_good("{draws: 19, prices: {white: {lognormal_percent: 20}}}"))));
    CHECK_FALSE(
        says_coarse(price_risk(one_good("{draws: 20, prices: {white: {lognormal_percent: 20}}}"))));
    auto draft = one_good("{draws: 500, prices: {white: {lognormal_percent: 20}}}").draft();
    draft.risk->prices.clear();
    draft.risk->history = PriceHistory{{"white"}, {"a", "b"}, {{300}, {500}}};
    const auto two_dates = price_risk(Scenario(draft));
    CHECK(says_coarse(two_dates));
    CHECK(to_text(two_dates).find("a history of 2 dates") != std::string::npos);
    // Half of all draws cost 500: the 95 % is the most there is, and nothing costs more.
    CHECK(two_dates.fixed.percent_95 == two_dates.fixed.most);
    CHECK(to_text(two_dates, {.width = 1000}).find("in at most 5 of 100 draws") !=
          std::string::npos);
  }

  TEST_CASE("a history is drawn in whole rows") {
    Scenario scenario = two_goods("{draws: 30000, prices: {brown: {normal_percent: 1}}}");
    ScenarioDraft draft = scenario.draft();
    draft.risk->prices.clear();
    draft.risk->history =
        PriceHistory{{"white", "brown"}, {"a", "b", "c"}, {{400, 420}, {500, 450}, {300, 700}}};
    const auto risk = price_risk(Scenario(draft));
    REQUIRE(risk.recipes.size() == 2);
    // White wins in two rows of three.
    CHECK(risk.recipes[0].frequency_percent == Approx(100. * 2 / 3).epsilon(0.02));
    CHECK(risk.reoptimised.mean == Approx((40 + 45 + 30) / 3.).epsilon(0.01));
    CHECK(risk.fixed.mean == Approx((40 + 50 + 30) / 3.).epsilon(0.01));
    for (const auto& draw : risk.each)
      CHECK_UNARY(draw.reoptimised_cost == Approx(40) || draw.reoptimised_cost == Approx(45) ||
                  draw.reoptimised_cost == Approx(30));
  }

  TEST_CASE("a scenario without a blend says why, and one without risk is refused") {
    const auto risk = price_risk(
        parse_scenario("leastwise: 1\n"
                       "materials:\n"
                       "  white: {form: granule, contains_percent: {N: 46}, price_per_t: 400}\n"
                       "grade_percent: {N: {min: 50}}\n"
                       "risk: {prices: {white: {normal_percent: 10}}}\n"));
    CHECK(risk.outcome.status == Status::infeasible);
    CHECK(risk.outcome.conflict);
    CHECK(risk.draws == 0);
    CHECK(to_json(risk).find("\"infeasible\"") != std::string::npos);
    const auto silent = parse_scenario(
        "leastwise: 1\n"
        "materials: {urea: {price_per_t: 400}}\n"
        "rates_kg_per_ha: {N: {min: 1}}\n");
    CHECK_THROWS_AS(static_cast<void>(price_risk(silent)), std::invalid_argument);
  }

  TEST_CASE("a request to stop keeps what is finished") {
    const auto scenario = two_goods("{draws: 5000000, prices: {white: {normal_percent: 10}}}");
    std::stop_source source;
    RiskOptions options;
    options.limits.stop = source.get_token();
    options.progress = [&](long done, long) {
      if (done > 1000) source.request_stop();
    };
    const auto risk = price_risk(scenario, options);
    CHECK(risk.outcome.status == Status::stopped);
    CHECK(risk.outcome.cause == StopCause::cancelled);
    CHECK(risk.draws > 0);
    CHECK(risk.draws < 5'000'000);
    CHECK(static_cast<std::size_t>(risk.draws) == risk.each.size());
    const auto how_many = std::to_string(risk.draws) + " of 5000000 draws";
    CHECK(risk.outcome.detail.find(how_many) != std::string::npos);
    CHECK(to_text(risk, {.width = 1000}).find("Over " + how_many) != std::string::npos);
    CHECK(to_svg(risk).find("Stopped before the end") != std::string::npos);
    CHECK(to_csv(risk).ends_with(",stopped\n"));
  }
}

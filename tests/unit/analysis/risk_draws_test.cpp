#include "analysis/risk/risk_draws.hpp"

#include <doctest/doctest.h>
#include <leastwise/load.hpp>

#include <cmath>
#include <set>
#include <string>

#include "base/numeric/normal_quantile.hpp"

using namespace leastwise;
using namespace leastwise::analysis;
using doctest::Approx;

namespace {

Scenario three_goods(const std::string& risk) {
  return parse_scenario(
      "leastwise: 1\n"
      "materials:\n"
      "  urea: {price_per_t: 400}\n"
      "  map: {price_per_t: 600}\n"
      "  mop: {price_per_t: 380}\n"
      "rates_kg_per_ha: {N: {min: 60}, P2O5: {min: 40}, K2O: {min: 30}}\n"
      "risk: " +
      risk + "\n");
}

/// The prices of one material over many draws.
std::vector<double> prices_of(const Scenario& scenario, const std::string& material, int draws) {
  PriceDraws drawing(scenario, *scenario.price_uncertainty());
  std::vector<double> all;
  std::vector<double> prices;
  for (int n = 0; n < draws; ++n) {
    drawing.draw(static_cast<std::uint64_t>(n), prices);
    all.push_back(prices[*scenario.index_of(material)]);
  }
  return all;
}

double mean(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double covariance(const std::vector<double>& a, const std::vector<double>& b) {
  const double mean_a = mean(a);
  const double mean_b = mean(b);
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - mean_a) * (b[i] - mean_b);
  return sum / static_cast<double>(a.size() - 1);
}

}  // namespace

TEST_SUITE("normal quantile") {
  TEST_CASE("the quantile is the inverse of the share below") {
    for (double p = 1e-300; p < 0.5; p *= 1.7) {
      CAPTURE(p);
      CHECK(std::fabs(normal_share_below(normal_quantile(p)) / p - 1) < 2e-12);
    }
    for (double p = 0.0005; p < 1; p += 0.0005)
      CHECK(std::fabs(normal_share_below(normal_quantile(p)) / p - 1) < 4e-15);
    CHECK(normal_quantile(0.5) == 0);
  }

  TEST_CASE("many at once are what each is alone, to the last bit") {
    std::vector<double> p;
    for (double share = 1e-300; share < 0.5; share *= 1.9) p.push_back(share);
    for (double share = 0.00031; share < 1; share += 0.00031) p.push_back(share);
    p.push_back(std::nextafter(1.0, 0.0));
    for (std::size_t size :
         {std::size_t{0}, std::size_t{1}, std::size_t{5}, std::size_t{32}, p.size()}) {
      std::vector<double> z(p.begin(), p.begin() + static_cast<std::ptrdiff_t>(size));
      normal_quantiles(z);
      for (std::size_t k = 0; k < size; ++k) {
        CAPTURE(p[k]);
        CHECK(z[k] == normal_quantile(p[k]));
      }
    }
  }

  // Source: Wichura (1988), AS 241, check values of PPND16: p = 0.25, 0.001 and 1e-20.
  TEST_CASE("the published check values come out") {
    CHECK(normal_quantile(0.25) == Approx(-0.6744897501960817).epsilon(1e-15));
    CHECK(normal_quantile(0.001) == Approx(-3.090232306167814).epsilon(1e-15));
    CHECK(normal_quantile(1e-20) == Approx(-9.262340089798408).epsilon(1e-15));
  }
}

TEST_SUITE("correlations") {
  TEST_CASE("a root gives its matrix back") {
    const std::vector<std::vector<double>> matrix{{1, 0.6, -0.3}, {0.6, 1, 0.2}, {-0.3, 0.2, 1}};
    const auto root = correlation_root(matrix);
    REQUIRE_FALSE(root.broken);
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j <= i; ++j) {
        double sum = 0;
        for (std::size_t k = 0; k <= j; ++k) sum += root.rows[i][k] * root.rows[j][k];
        CHECK(sum == Approx(matrix[i][j]));
      }
  }

  TEST_CASE("prices that move as one are allowed, at odds they are not") {
    CHECK_FALSE(correlation_root({{1, 1, 0.5}, {1, 1, 0.5}, {0.5, 0.5, 1}}).broken);
    CHECK_FALSE(correlation_root({{1, -1}, {-1, 1}}).broken);
    // The second follows the first, so a third cannot tell them apart.
    CHECK(correlation_root({{1, 1, 0.5}, {1, 1, 0.4}, {0.5, 0.4, 1}}).broken == 2);
    CHECK(correlation_root({{1, 0.9, 0.9}, {0.9, 1, -0.9}, {0.9, -0.9, 1}}).broken == 2);
  }

  // Closed form for three prices: r is between pq - s and pq + s, s^2 = (1 - p^2)(1 - q^2).
  TEST_CASE("the correlation that would have to change least is named with its room") {
    const double s = std::sqrt((1 - 0.6 * 0.6) * (1 - 0.5 * 0.5));
    const std::vector<std::vector<double>> matrix{{1, 0.6, 0.5}, {0.6, 1, -0.9}, {0.5, -0.9, 1}};
    const auto room = least_change(matrix, correlation_root(matrix));
    REQUIRE(room);
    CHECK(room->other == 1);
    CHECK(room->from == Approx(0.6 * 0.5 - s));
    CHECK(room->to == Approx(0.6 * 0.5 + s));
    for (const double r : {room->from + 1e-9, room->to - 1e-9})
      CHECK_FALSE(correlation_root({{1, 0.6, 0.5}, {0.6, 1, r}, {0.5, r, 1}}).broken);
    for (const double r : {room->from - 1e-6, room->to + 1e-6})
      CHECK(correlation_root({{1, 0.6, 0.5}, {0.6, 1, r}, {0.5, r, 1}}).broken);
    // A price that follows another leaves no room that one number could describe.
    const std::vector<std::vector<double>> follows{{1, 1, 0.5}, {1, 1, 0.4}, {0.5, 0.4, 1}};
    CHECK_FALSE(least_change(follows, correlation_root(follows)));
    CHECK_FALSE(least_change({{1, 0.5}, {0.5, 1}}, correlation_root({{1, 0.5}, {0.5, 1}})));
  }
}

TEST_SUITE("price draws") {
  TEST_CASE("a draw depends on the seed and its number alone") {
    const auto some = three_goods("{draws: 10, seed: 5, prices: {urea: {lognormal_percent: 20}}}");
    const auto more = three_goods(
        "{draws: 90, seed: 5, prices: {map: {normal_percent: 9}, urea: {lognormal_percent: 20}}}");
    const auto other = three_goods("{seed: 6, prices: {urea: {lognormal_percent: 20}}}");
    CHECK(prices_of(some, "urea", 50) == prices_of(more, "urea", 50));
    CHECK(prices_of(some, "urea", 50) != prices_of(other, "urea", 50));
    PriceDraws drawing(some, *some.price_uncertainty());
    std::vector<double> late;
    drawing.draw(49, late);
    CHECK(late[0] == prices_of(some, "urea", 50)[49]);
  }

  TEST_CASE("no two of a hundred thousand draws are alike") {
    const auto scenario = three_goods("{prices: {urea: {lognormal_percent: 20}}}");
    const auto prices = prices_of(scenario, "urea", 100'000);
    CHECK(std::set<double>(prices.begin(), prices.end()).size() == prices.size());
  }

  // Closed forms; the bounds are 5 standard errors of 200 000 draws.
  TEST_CASE("today's price is the mean of normal and lognormal prices, the spread as stated") {
    const auto scenario =
        three_goods("{prices: {urea: {lognormal_percent: 20}, map: {normal_percent: 15}}}");
    constexpr int draws = 200'000;
    const double root_n = std::sqrt(static_cast<double>(draws));
    const auto urea = prices_of(scenario, "urea", draws);
    const auto map = prices_of(scenario, "map", draws);
    CHECK(std::fabs(mean(urea) - 400) < 5 * 80 / root_n);
    CHECK(std::fabs(mean(map) - 600) < 5 * 90 / root_n);
    CHECK(std::sqrt(covariance(urea, urea)) == Approx(80).epsilon(0.02));
    CHECK(std::sqrt(covariance(map, map)) == Approx(90).epsilon(0.01));
  }

  TEST_CASE("triangular prices have the mean and the variance of their triangle") {
    const auto scenario =
        three_goods("{prices: {mop: {triangular: {min: 300, mode: 380, max: 520}}}}");
    constexpr int draws = 200'000;
    const auto mop = prices_of(scenario, "mop", draws);
    const double variance =
        (300. * 300 + 380. * 380 + 520. * 520 - 300. * 380 - 300. * 520 - 380. * 520) / 18;
    CHECK(std::fabs(mean(mop) - 400) < 5 * std::sqrt(variance / draws));
    CHECK(covariance(mop, mop) == Approx(variance).epsilon(0.02));
    for (const double price : mop) {
      CHECK_UNARY(price >= 300);
      CHECK_UNARY(price <= 520);
    }
  }

  TEST_CASE("correlated prices are correlated as stated") {
    const auto scenario = three_goods(
        "{prices: {urea: {lognormal_percent: 20}, map: {normal_percent: 15}, "
        "mop: {triangular: {min: 300, mode: 380, max: 520}}}, "
        "correlations: [{between: [urea, map], r: 0.6}, {between: [map, mop], r: -0.4}]}");
    constexpr int draws = 100'000;
    auto urea = prices_of(scenario, "urea", draws);
    const auto map = prices_of(scenario, "map", draws);
    for (double& price : urea) price = std::log(price);
    const double r =
        covariance(urea, map) / std::sqrt(covariance(urea, urea) * covariance(map, map));
    CHECK(r == Approx(0.6).epsilon(0.02));
    const auto mop = prices_of(scenario, "mop", draws);
    const double s = covariance(mop, map) / std::sqrt(covariance(mop, mop) * covariance(map, map));
    CHECK(s == Approx(-0.4).epsilon(0.04));
  }

  TEST_CASE("a normal price that would fall below 0 counts as 0 and is counted") {
    const auto scenario = three_goods("{prices: {urea: {normal_percent: 80}}}");
    PriceDraws drawing(scenario, *scenario.price_uncertainty());
    std::vector<double> prices;
    int at_zero = 0;
    constexpr int draws = 20'000;
    for (int n = 0; n < draws; ++n) {
      at_zero += drawing.draw(static_cast<std::uint64_t>(n), prices);
      CHECK_UNARY(prices[0] >= 0);
    }
    const double share = normal_share_below(-1 / 0.8);
    CHECK(at_zero == Approx(share * draws).epsilon(0.05));
  }
}

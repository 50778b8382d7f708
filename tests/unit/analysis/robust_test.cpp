#include <doctest/doctest.h>
#include <leastwise/chance_constraint.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/load.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "base/numeric/normal_quantile.hpp"
#include "support/random.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

/// Two sources of N whose analyses spread, and a filler without any.
Scenario spread_goods(const std::string& grade, const std::string& rest = "") {
  return parse_scenario(
      "leastwise: 1\n"
      "materials:\n"
      "  white: {form: granule, contains_percent: {N: 20}, spread_percent: {N: 1}, price_per_t: "
      "400}\n"
      "  brown: {form: granule, contains_percent: {N: 30}, spread_percent: {N: 2}, price_per_t: "
      "700, share_percent: {min: 20}}\n"
      "  filler: {form: granule, contains_percent: {Si: 1}, price_per_t: 20}\n" +
      rest + "grade_percent: {N: " + grade + "}\n");
}

double kg_in(const Blend& blend, const std::string& material) {
  for (const auto& portion : blend.portions)
    if (portion.material == material) return portion.kg_per_t;
  return 0;
}

Blend blend_of(const Scenario& scenario) {
  const auto answer = formulate(scenario);
  REQUIRE(answer.blend());
  return *answer.blend();
}

std::string code_of(const std::string& grade) {
  try {
    static_cast<void>(spread_goods(grade));
  } catch (const InputError& error) {
    return error.diagnostics()[0].code;
  }
  return "";
}

}  // namespace

TEST_SUITE("robust targets") {
  // White counts 20 - 1.645 = 18.355, brown 30 - 2 * 1.645 = 26.710; brown is held at 200 kg/t.
  TEST_CASE("a minimum with a confidence counts each content less its margin") {
    const auto scenario = spread_goods("{min: 12, confidence: 0.95}");
    const double z = normal_quantile(0.95);
    const auto blend = blend_of(scenario);
    const double brown = 200;
    const double white = (120 - brown * (0.30 - z * 0.02)) / (0.20 - z * 0.01);
    CHECK(kg_in(blend, "brown") == Approx(brown));
    CHECK(kg_in(blend, "white") == Approx(white));
    const auto sure = limit_confidences(scenario, blend);
    REQUIRE(sure.size() == 1);
    CHECK(sure[0].rule == "grade N min");
    CHECK(sure[0].probability_together == Approx(0.95));
    CHECK(sure[0].expected == Approx((white * 0.20 + brown * 0.30) / 10));
    CHECK(sure[0].deviation_together == Approx((white * 0.01 + brown * 0.02) / 10));
    CHECK(sure[0].deviation_independent == Approx(std::hypot(white * 0.01, brown * 0.02) / 10));
    CHECK(sure[0].probability_independent > 0.97);
    CHECK(std::any_of(blend.notes.begin(), blend.notes.end(), [](const Note& note) {
      return note.text.find("grade N min 12 % holds in at least 95 % of lots") != std::string::npos;
    }));
  }

  TEST_CASE("drawn analyses keep the limit as often as was asked") {
    const auto scenario = spread_goods("{min: 12, confidence: 0.9}");
    const auto blend = blend_of(scenario);
    const auto sure = limit_confidences(scenario, blend).at(0);
    support::Random random(7);
    constexpr int lots = 100'000;
    int together = 0;
    int apart = 0;
    for (int k = 0; k < lots; ++k) {
      const double a = normal_quantile(random.between(1e-12, 1 - 1e-12));
      const double b = normal_quantile(random.between(1e-12, 1 - 1e-12));
      const auto grade = [&](double first, double second) {
        return (kg_in(blend, "white") * (20 + first) + kg_in(blend, "brown") * (30 + 2 * second)) /
               1000;
      };
      together += grade(a, a) >= 12 ? 1 : 0;
      apart += grade(a, b) >= 12 ? 1 : 0;
    }
    CHECK(together / static_cast<double>(lots) == Approx(0.9).epsilon(0.005));
    CHECK(apart / static_cast<double>(lots) == Approx(sure.probability_independent).epsilon(0.005));
    CHECK(apart > together);
  }

  TEST_CASE("a maximum counts the margin on top, and both sides leave room between them") {
    const auto both = spread_goods("{min: 12, max: 18, confidence: 0.95}");
    const auto sure = limit_confidences(both, blend_of(both));
    REQUIRE(sure.size() == 2);
    CHECK(sure[1].rule == "grade N max");
    CHECK(sure[1].probability_together >= 0.95 - 1e-9);
    // From 12 to 13 there is no room for the spread of 1.5 points at 99.9 %.
    CHECK(formulate(spread_goods("{min: 12, max: 13, confidence: 0.999}")).conflict());
  }

  TEST_CASE("more confidence never costs less, and a half changes nothing") {
    double before = blend_of(spread_goods("{min: 12}")).cost_per_t;
    CHECK(blend_of(spread_goods("{min: 12, confidence: 0.5}")).cost_per_t == Approx(before));
    for (const char* confidence : {"0.8", "0.9", "0.99", "0.9999"}) {
      const double cost =
          blend_of(spread_goods(std::string("{min: 12, confidence: ") + confidence + "}"))
              .cost_per_t;
      CHECK(cost > before);
      before = cost;
    }
  }

  TEST_CASE("a rate counts its margin in the same way") {
    const auto scenario = parse_scenario(
        "leastwise: 1\n"
        "materials:\n"
        "  white: {form: granule, contains_percent: {N: 20}, spread_percent: {N: 1}, price_per_t: "
        "400}\n"
        "rates_kg_per_ha: {N: {min: 60, confidence: 0.95}}\n");
    const auto blend = blend_of(scenario);
    CHECK(*blend.total_kg_per_ha == Approx(60 / (0.20 - normal_quantile(0.95) * 0.01)));
  }

  TEST_CASE("what makes no sense is refused") {
    CHECK(code_of("{min: 12, confidence: 0.3}") == "out-of-range");
    CHECK(code_of("{min: 12, confidence: 95}") == "out-of-range");
    CHECK(code_of("{exactly: 12, confidence: 0.9}") == "needs-room");
    CHECK(code_of("{max: 12, tolerance: aafco}") == "needs-room");
    CHECK(code_of("{min: 12, tolerance: aafcu}") == "bad-choice");
    CHECK_THROWS_AS(static_cast<void>(parse_scenario(
                        "leastwise: 1\n"
                        "materials: {white: {form: granule, contains_percent: {N: 20}, "
                        "spread_percent: {S: 1}, price_per_t: 400}}\n"
                        "rates_kg_per_ha: {N: {min: 60}}\n")),
                    InputError);
  }
}

TEST_SUITE("label tolerances in a scenario") {
  // Source: Regulation (EU) 2019/1009 Annex III Part III: a straight label may lack a quarter of
  // what it declares, at most 2.0 points: 12 % may be 10.
  TEST_CASE("a tolerance lowers the minimum by the published allowance and says so") {
    const auto scenario = spread_goods("{min: 12, tolerance: eu-2019-1009}");
    CHECK(scenario.grades()[0].limits.min == Approx(10));
    CHECK(*scenario.grades()[0].guarantee == 12);
    const auto blend = blend_of(scenario);
    CHECK(kg_in(blend, "white") * 0.20 + kg_in(blend, "brown") * 0.30 == Approx(100));
    CHECK(std::any_of(blend.notes.begin(), blend.notes.end(), [](const Note& note) {
      return note.level == NoteLevel::caution &&
             note.text.find("never a licence") != std::string::npos;
    }));
  }

  TEST_CASE("what is declared stands beside the limit that the tolerance leaves of it") {
    const auto scenario = spread_goods("{min: 12, tolerance: eu-2019-1009}");
    const auto blend = blend_of(scenario);
    const auto rule = std::find_if(blend.binding.begin(), blend.binding.end(),
                                   [](const BindingRule& r) { return r.rule == "grade N min"; });
    REQUIRE(rule != blend.binding.end());
    CHECK(rule->limit == Approx(10));
    REQUIRE(rule->declared);
    CHECK(*rule->declared == 12);
    REQUIRE(blend.supply[0].declared_percent);
    CHECK(*blend.supply[0].declared_percent == 12);
    const auto text = to_text(formulate(scenario));
    CHECK(text.find("at least 10 (12 less its tolerance)") != std::string::npos);
    CHECK(text.find("12 % is declared, and its tolerance") != std::string::npos);
    const auto map = limit_map(scenario, "grade N min", 9, 11);
    CHECK(map.limit_now == Approx(10));
    REQUIRE(map.declared_now);
    CHECK(*map.declared_now == 12);
    CHECK(to_text(map).find("the scenario declares 12 %") != std::string::npos);
  }

  TEST_CASE("the number of declared nutrients decides the European tolerance") {
    const auto scenario = parse_scenario(
        "leastwise: 1\n"
        "materials: {urea: {price_per_t: 400}, map: {price_per_t: 600}, mop: {price_per_t: 380}}\n"
        "grade_percent:\n"
        "  N: {min: 15, tolerance: eu-2019-1009}\n"
        "  P2O5: {min: 15, tolerance: eu-2019-1009}\n"
        "  K2O: {min: 15, tolerance: eu-2019-1009}\n");
    for (const auto& grade : scenario.grades()) CHECK(grade.limits.min == Approx(13.1));
  }
}

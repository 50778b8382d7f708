#include <doctest/doctest.h>

#include "exact/decimal.hpp"
#include "exact/exact_units.hpp"

using namespace leastwise;
using namespace leastwise::exact;

TEST_SUITE_BEGIN("exact units");

TEST_CASE("a pound per acre stands for its exact fraction of a kg per hectare") {
  // 0.45359237 / 0.40468564224, in whole numbers: no finite decimal.
  const Rational factor(Integer(45359237000), Integer(40468564224));
  for (const double written : {1.0, 30.0, 0.5, 62.25, 0.1, 7777.7}) {
    const double metric = to_metric(written, Measure::rate, Units::us);
    CHECK(stated(metric, Measure::rate, Units::us) == decimal(written) * factor);
  }
}

TEST_CASE("a metric number stands for itself, and so does one with too many digits") {
  CHECK(stated(0.1, Measure::rate, Units::metric) == decimal(0.1));
  CHECK(stated(0, Measure::rate, Units::us) == 0);
  const double odd = 1.0 / 3;
  const Rational off = stated(odd, Measure::price_of_goods, Units::us) - decimal(odd);
  CHECK(abs(off) <= decimal(1e-15));
}

TEST_CASE("limits that agree in pounds agree in fractions") {
  const auto lb = [](double rate) {
    return stated(to_metric(rate, Measure::rate, Units::us), Measure::rate, Units::us);
  };
  CHECK(lb(100) == lb(500) / 5);
  CHECK(lb(0.1) + lb(0.2) == lb(0.3));
}

TEST_SUITE_END();

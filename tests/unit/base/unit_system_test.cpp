#include <doctest/doctest.h>
#include <leastwise/unit_system.hpp>

#include "base/unit_factors.hpp"

using namespace leastwise;

namespace {

double us_in_metric(Measure measure) { return to_metric(1, measure, Units::us); }

}  // namespace

TEST_SUITE_BEGIN("units");

// NIST Handbook 44, Appendix C: pound 0.453 592 37 kg exactly, short ton 907.184 74 kg exactly;
// acre 4046.8564224 m2 and cubic foot 0.028 316 846 592 m3 of the international foot (from memory).
TEST_CASE("US units are what NIST Handbook 44 says they are") {
  CHECK(us_in_metric(Measure::mass) == 0.45359237);
  CHECK(us_in_metric(Measure::goods) == 0.90718474);
  CHECK(us_in_metric(Measure::land) == 0.40468564224);
  CHECK(us_in_metric(Measure::rate) == doctest::Approx(1.12085116).epsilon(1e-8));
  CHECK(us_in_metric(Measure::dose) == 0.5);
  CHECK(us_in_metric(Measure::density) == doctest::Approx(16.01846337).epsilon(1e-9));
  CHECK(us_in_metric(Measure::price_of_goods) == doctest::Approx(1.10231131).epsilon(1e-8));
  CHECK(us_in_metric(Measure::price_of_land) == doctest::Approx(2.47105381).epsilon(1e-8));
  CHECK(us_in_metric(Measure::price_of_mass) == doctest::Approx(2.20462262).epsilon(1e-8));
}

TEST_CASE("a figure comes back as it was written") {
  for (const double written : {30.0, 0.1, 412.37, 1e-4, 123456.789})
    for (int measure = 0; measure <= static_cast<int>(Measure::price_of_goods); ++measure) {
      const auto kind = static_cast<Measure>(measure);
      CHECK(from_metric(to_metric(written, kind, Units::us), kind, Units::us) ==
            doctest::Approx(written).epsilon(1e-15));
      CHECK(to_metric(written, kind, Units::metric) == written);
    }
  CHECK(figure_text(to_metric(412.37, Measure::rate, Units::us), Measure::rate, Units::us) ==
        "412.37");
}

TEST_CASE("every key that names a unit has a key in US units") {
  CHECK(us_key_of("price_per_t") == "price_per_short_ton");
  CHECK(us_key_of("rates_kg_per_ha") == "rates_lb_per_acre");
  CHECK(us_key_of("bulk_density_kg_per_m3") == "bulk_density_lb_per_ft3");
  CHECK(us_key_of("stock_kg") == "stock_lb");
  CHECK(us_key_of("hectares") == "acres");
  CHECK(us_key_of("tonnes") == "short_tons");
  CHECK(us_key_of("share_percent").empty());
  CHECK(with_us_keys("add price_per_t, such as {hectares: 12}; 12 hectares are none") ==
        "add price_per_short_ton, such as {acres: 12}; 12 hectares are none");
}

TEST_SUITE_END();

#pragma once
#include <leastwise/export.h>

#include <string_view>

namespace leastwise {

/// The units a scenario file counts in, and those that its pages and tables are written in.
///
/// Fields of this library are metric whatever this says: their names state their units. JSON
/// reports keep the metric names and figures, and add those in US units.
enum class Units {
  metric,  ///< kg, hectare, tonne of 1000 kg
  us,      ///< pound, acre, short ton of 2000 lb
};

/// `metric`, `us`: the spelling of scenario files and JSON reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Units units);

/// What a figure measures, as far as its unit depends on the system of units.
enum class Measure {
  mass,            ///< kg, lb
  land,            ///< ha, acre
  goods,           ///< t, short ton
  rate,            ///< kg/ha, lb/acre
  dose,            ///< kg/t, lb/short ton
  density,         ///< kg/m3, lb/ft3
  price_of_mass,   ///< currency per kg, per lb
  price_of_land,   ///< currency per ha, per acre
  price_of_goods,  ///< currency per t, per short ton
};

/// The metric figure of `value`, which counts in `units`.
///
/// A pound is 0.45359237 kg, a short ton 2000 lb, an acre 4046.8564224 m2 and a foot 0.3048 m
/// (international yard and pound agreement of 1959; NIST Handbook 44, Appendix C). The factors are
/// exact; the result is off by at most two units of its last place.
[[nodiscard]] LEASTWISE_API double to_metric(double value, Measure measure, Units units);
/// The figure in `units` of `value`, which is metric.
[[nodiscard]] LEASTWISE_API double from_metric(double value, Measure measure, Units units);

/// What figures of that kind are called: `kg/ha`, `lb/acre`. Of prices: `/t`, `/short ton`.
[[nodiscard]] LEASTWISE_API std::string_view unit_name(Measure measure, Units units);

}  // namespace leastwise

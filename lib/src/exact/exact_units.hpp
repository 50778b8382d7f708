#pragma once
#include <leastwise/unit_system.hpp>

#include <optional>

#include "exact/rational.hpp"

namespace leastwise::exact {

/// The number that the metric `value` stands for in a scenario written in `units`.
///
/// Under `units: us` that is the decimal as it was written, times the exact factor: pounds per acre
/// in kg per hectare are no finite decimal. So limits that agree in the file agree in a proof. The
/// written decimal is found again as the shortest one of at most 15 digits that is `value` but for
/// the last places; a value that is not of that kind stands for itself.
[[nodiscard]] Rational stated(double value, Measure measure, Units units);

/// Reads the numbers of one scenario as they are stated there.
class Stated {
 public:
  static constexpr std::optional<Measure> rate = Measure::rate;  ///< kg/ha

  explicit Stated(Units units) : units_(units) {}
  /// A number without a unit of its own stands for its decimal.
  [[nodiscard]] Rational operator()(double value, std::optional<Measure> measure = {}) const {
    return stated(value, measure.value_or(Measure::mass), measure ? units_ : Units::metric);
  }
  [[nodiscard]] Rational price(double per_t) const {
    return stated(per_t, Measure::price_of_goods, units_);
  }

 private:
  Units units_;
};

}  // namespace leastwise::exact

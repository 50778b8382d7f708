#pragma once
#include <leastwise/unit_system.hpp>

#include <string>
#include <string_view>

namespace leastwise {

/// So many metric units are one US unit: `above / below`, both decimals without rounding.
struct UnitFactor {
  double above = 1;
  double below = 1;
};

[[nodiscard]] UnitFactor us_factor(Measure measure);

/// The metric `value` in `units`, for a message: as it was written there.
[[nodiscard]] std::string figure_text(double value, Measure measure, Units units);

/// The key of a scenario in US units that says what `metric_key` does: `price_per_short_ton` of
/// `price_per_t`. Empty for a key that is the same in all units.
[[nodiscard]] std::string us_key_of(std::string_view metric_key);

/// `message` with each metric key in it, as a whole word, replaced by its US key.
[[nodiscard]] std::string with_us_keys(std::string_view message);

}  // namespace leastwise

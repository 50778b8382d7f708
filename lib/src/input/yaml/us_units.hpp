#pragma once
#include <leastwise/unit_system.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// A key in US customary units, and what it is in those of the format.
struct UsKey {
  std::string metric_key{};
  std::string us_key{};  ///< as the format spells it: `price_per_short_ton` for `price_per_st`
  Measure measure = Measure::mass;
  double factor = 1;         ///< a value of the US key times this is one of the metric key
  std::string_view unit{};   ///< `short ton`, `lb/acre`
  std::string_view equal{};  ///< the factor in words: `1 t is 1.10231 short tons`
};

/// `price_per_t` for `price_per_st`, `rates_kg_per_ha` for `rates_lb_per_acre`, `stock_kg` for
/// `stock_lb`. Nothing for a key that ends in no US unit.
[[nodiscard]] std::optional<UsKey> us_key(std::string_view key);

/// The US key of a metric one that counts in a unit: `price_per_short_ton` of `price_per_t`.
[[nodiscard]] std::optional<UsKey> us_key_for(std::string_view metric_key);

}  // namespace leastwise

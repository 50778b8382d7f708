#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// A key in US customary units, and what it is in those of the format.
struct UsKey {
  std::string metric_key{};
  double factor = 1;         ///< a value of the US key times this is one of the metric key
  std::string_view unit{};   ///< `short ton`, `lb/acre`
  std::string_view equal{};  ///< the factor in words: `1 t is 1.10231 short tons`
};

/// `price_per_t` for `price_per_st`, `rates_kg_per_ha` for `rates_lb_per_acre`, `stock_kg` for
/// `stock_lb`. Nothing for a key that ends in no US unit.
///
/// A pound is 0.45359237 kg and a short ton 2000 lb, an acre 4046.8564224 m2 (international yard
/// and pound agreement of 1959; NIST Handbook 44, Appendix C).
[[nodiscard]] std::optional<UsKey> us_key(std::string_view key);

}  // namespace leastwise

#pragma once
#include <string_view>

namespace leastwise::fuzz {

/// By hand: 250 kg of carrier and 750 kg of filler for 10 % N.
inline constexpr std::string_view carrier_and_filler = R"(leastwise: 1
materials:
  carrier: {form: granule, contains_percent: {N: 40}, price_per_t: 400}
  filler: {form: granule, contains_percent: {Ca: 30}, price_per_t: 50}
grade_percent:
  N: {min: 10}
)";
inline constexpr double least_cost = 137.5;  ///< per tonne

}  // namespace leastwise::fuzz

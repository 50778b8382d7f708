#pragma once
#include <string_view>

namespace leastwise::cli_test {

/// 20 % N from urea of 46 % N at 460 and a filler at 20: 434.8 kg urea, 565.2 kg filler, so
/// 0.4348 x 460 + 0.5652 x 20 = 211.30 per tonne.
inline constexpr std::string_view blendable = R"(leastwise: 1
title: Hand-worked blend
currency: USD
materials:
  urea: {form: granule, contains_percent: {N: 46, N-urea: 46}, price_per_t: 460}
  stone: {form: granule, family: filler, contains_percent: {}, price_per_t: 20}
grade_percent:
  N: {exactly: 20}
)";

/// The same asked for 50 % N, which urea of 46 % cannot reach.
inline constexpr std::string_view impossible = R"(leastwise: 1
title: More than urea holds
currency: USD
materials:
  urea: {form: granule, contains_percent: {N: 46, N-urea: 46}, price_per_t: 460}
  stone: {form: granule, family: filler, contains_percent: {}, price_per_t: 20}
grade_percent:
  N: {min: 50}
)";

/// An unknown key and a minimum above its maximum.
inline constexpr std::string_view faulty = R"(leastwise: 1
title: Two slips
materials:
  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460, prise: 3}
grade_percent:
  N: {min: 30, max: 20}
)";

}  // namespace leastwise::cli_test

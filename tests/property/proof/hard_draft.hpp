#pragma once
#include <leastwise/draft.hpp>

#include <cstdint>
#include <string_view>

namespace leastwise::support {

/// What makes a blending question hard to solve with rounded numbers.
enum class Hardship {
  degenerate,         ///< many rules meet in one point, exactly
  nearly_parallel,    ///< pairs of rules that differ by a millionth
  parts_per_million,  ///< contents and rates of ppm beside tonnes
  wild_prices,        ///< over nine orders of magnitude
  barely_impossible,  ///< one rule a millionth beyond, or within, what can be reached
  equal_prices,
  either_or,  ///< bins, minima if used and pairs kept apart, with limits that coincide
  large,      ///< 400 materials and 60 rules
};

inline constexpr std::uint64_t kinds_of_hardship = 8;

/// The hardship of a seed; `large` is one seed in 200, the others share the rest.
[[nodiscard]] Hardship hardship_of(std::uint64_t seed);
[[nodiscard]] std::string_view to_string(Hardship hardship);

/// A random question of the seed's hardship, or of the one given; valid, and the same everywhere.
[[nodiscard]] ScenarioDraft hard_draft(std::uint64_t seed);
[[nodiscard]] ScenarioDraft hard_draft(std::uint64_t seed, Hardship hardship);

}  // namespace leastwise::support

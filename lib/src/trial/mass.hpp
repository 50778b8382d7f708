#pragma once
#include <cstdint>
#include <vector>

namespace leastwise::trial {

inline constexpr double mg_per_kg = 1e6;
inline constexpr double mg_per_g = 1e3;
/// kg/ha times square metres, in milligrams: 1 kg/ha is 0.1 g per square metre.
inline constexpr double mg_per_kg_per_ha_m2 = 100;

/// `mg` rounded to the nearest multiple of `unit_mg`, halves up.
[[nodiscard]] std::int64_t rounded_to(double mg, std::int64_t unit_mg);

/// `total_mg`, a multiple of `unit_mg`, in `count` parts that differ by at most one unit and add up
/// to it; the larger ones first.
[[nodiscard]] std::vector<std::int64_t> parts_of(std::int64_t total_mg, std::int64_t count,
                                                 std::int64_t unit_mg);

/// `total_mg` shared out in proportion to `weights`, to the milligram and without loss: each share
/// is cut to whole milligrams, and what is left goes to the largest remainders. The weights must
/// not all be 0.
[[nodiscard]] std::vector<std::int64_t> apportioned(std::int64_t total_mg,
                                                    const std::vector<std::int64_t>& weights);

}  // namespace leastwise::trial

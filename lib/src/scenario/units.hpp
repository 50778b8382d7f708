#pragma once

namespace leastwise {

inline constexpr double kg_per_tonne = 1000;

}  // namespace leastwise

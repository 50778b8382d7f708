#pragma once
#include <cstddef>

namespace leastwise::solve {

/// Rows and columns are numbered by `int`, and looked up in vectors.
[[nodiscard]] inline std::size_t index(int i) { return static_cast<std::size_t>(i); }

}  // namespace leastwise::solve

#pragma once
#include <cstddef>
#include <string_view>

namespace leastwise {

/// Position of `name` in `known_names()`; their number when it is none of them.
[[nodiscard]] std::size_t position_of_name(std::string_view name);

}  // namespace leastwise

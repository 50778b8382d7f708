#pragma once
#include <string_view>

#define LEASTWISE_VERSION_MAJOR 0
#define LEASTWISE_VERSION_MINOR 1
#define LEASTWISE_VERSION_PATCH 0

namespace leastwise {

/// Version of the library at run time, `major.minor.patch`.
[[nodiscard]] std::string_view version();

}  // namespace leastwise

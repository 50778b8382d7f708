#pragma once
#include <leastwise/export.h>
#include <leastwise/version.h>

#include <string_view>

namespace leastwise {

/// Version of the library at run time, `major.minor.patch`.
[[nodiscard]] LEASTWISE_API std::string_view version();

}  // namespace leastwise

#pragma once
#include <string_view>

#include "chemistry/hazard/compound.hpp"

namespace leastwise {

/// `is that of a strong acid`, `is that of an acid salt of sulfuric acid`; empty for what is
/// neither.
[[nodiscard]] std::string_view acid_in(const Compound& compound);

/// `is that of a strong base`, of an alkaline silicate, of a strongly alkaline salt or of ammonia
/// in water; empty for what is none of them.
[[nodiscard]] std::string_view base_in(const Compound& compound);

}  // namespace leastwise

#pragma once
#include <leastwise/draft.hpp>

#include <cstdint>

namespace leastwise::support {

/// A scenario of two to five materials and at most a handful of rules, small enough for exact
/// arithmetic. About a third cannot be blended. The same for the same seed on every platform.
[[nodiscard]] ScenarioDraft tiny_draft(std::uint64_t seed);

}  // namespace leastwise::support

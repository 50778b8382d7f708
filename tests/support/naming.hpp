#pragma once
#include <leastwise/draft.hpp>

#include <cstdint>

namespace leastwise::support {

/// Gives some materials, families, properties and the money of a draft names with the signs and
/// words that reports, rules and safety texts use themselves: `urea-3 / lime`, `N:biuret per kg`,
/// `mop-1 max`. Amounts, prices and limits stay as they are.
///
/// A family keeps its name where it burns or feeds a fire; under a new name the built-in table says
/// nothing of it.
void draw_names(std::uint64_t seed, ScenarioDraft& draft);

}  // namespace leastwise::support

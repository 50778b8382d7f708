#pragma once
#include <leastwise/scenario.hpp>

#include <string>
#include <string_view>

namespace leastwise::exact {

/// 16 hexadecimal digits that differ when two texts differ, but for chance (FNV-1a, 64 bits; not
/// made to resist somebody who searches for a collision).
[[nodiscard]] std::string digest(std::string_view text);

/// A digest of everything in the scenario that a blend or its cost depends on, title and currency.
[[nodiscard]] std::string fingerprint(const Scenario& scenario);

/// Whether `proof`, a fingerprint, is that of `scenario`. No proof is of one that buys by quantity.
[[nodiscard]] bool is_of(std::string_view proof, const Scenario& scenario);

}  // namespace leastwise::exact

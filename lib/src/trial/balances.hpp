#pragma once
#include <leastwise/trial.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace leastwise::trial {

/// Readability in milligrams, at least 1.
[[nodiscard]] std::int64_t readability_mg(const Balance& balance);

/// The finest balance that carries `mg` in one weighing; where none does, the one that needs the
/// fewest weighings. Of equals the smaller one.
[[nodiscard]] const Balance& balance_for(std::span<const Balance> balances, double mg);

/// `mass_mg`, a multiple of the readability, in as few weighings as the balance allows.
[[nodiscard]] std::vector<std::int64_t> weighing_parts(const Balance& balance,
                                                       std::int64_t mass_mg);

}  // namespace leastwise::trial

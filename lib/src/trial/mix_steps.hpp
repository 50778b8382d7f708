#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_mix.hpp>

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace leastwise::trial {

/// A stepwise dilution: one part in `parts`, so many times.
struct Dilution {
  int steps = 0;  ///< 0: nothing is thinned out
  int parts = 1;

  [[nodiscard]] double factor() const;
};

/// The fewest steps of at most one part in ten that thin out at least `factor` times.
[[nodiscard]] Dilution dilution_of(double factor);

/// What goes into a mix, and in which ratio.
struct MixIngredient {
  std::string material{};
  double amount = 0;  ///< in any unit common to all
};

/// So much more is made than is needed, for each step.
inline constexpr double for_what_clings = 1.05;

/// The least that is weighed of something of which `mg` is wanted: 50 digits of the balance that
/// would be used.
[[nodiscard]] std::int64_t least_mass_mg(std::span<const Balance> balances, double mg);

/// What is weighed of something in a mix: 75 digits, so that rounding moves it by at most two
/// thirds of a percent and leaves room for what else is rounded.
[[nodiscard]] double ample_mass_mg(std::span<const Balance> balances, double mg);

/// `mg` of a material on the balance for it, rounded to its digits.
[[nodiscard]] MixWeighing mix_weighing_of(std::span<const Balance> balances, std::string material,
                                          double mg, bool round_up);

/// Fills `steps`, `parts` and `mass_mg` of a mix of which `needed_mg` are wanted: a twentieth more
/// is made for what clings. No weighing is below 50 digits. Carriers are rounded up, so that the
/// mix is never richer than the dilution says.
void make_steps(std::span<const Balance> balances, const std::vector<MixIngredient>& ingredients,
                const Dilution& dilution, double needed_mg, StockMix& mix);

}  // namespace leastwise::trial

#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_mix.hpp>

#include <span>
#include <string>

namespace leastwise::trial {

/// A solution to be made: how much, how strong, and how strong it may be at most.
struct SolutionWish {
  std::string material{};
  double needed_mg = 0;      ///< of solution, at least
  double fraction = 0;       ///< of the material in it, by mass
  double most_fraction = 0;  ///< that may be made on the way; not below `fraction`
};

/// The steps and parts of that solution, with the code that `mix` has. Water makes good what
/// rounding the powder to its balance is off by.
void make_solution(std::span<const Balance> balances, const SolutionWish& wish, StockMix& mix);

}  // namespace leastwise::trial

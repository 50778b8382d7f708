#pragma once
#include <leastwise/formulation.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// What the solved treatments of a trial have in common beside what each asks for.
struct Hold {
  std::vector<std::string> nutrients{};  ///< at one rate in all of them; empty with `all`
  /// Instead of names: N, P2O5, K2O, S, Ca, Mg, B, Cu, Fe, Mn, Mo, Zn and whatever else a treatment
  /// limits, each among the treatments that ask the same of it.
  bool all = false;
  bool product = false;  ///< the kg of product per hectare too; something must fill up
};

/// A rate that treatments have in common.
struct HeldRate {
  std::string nutrient{};                 ///< empty: kg of product
  std::vector<std::size_t> treatments{};  ///< into `TrialPlan::treatments`; two or more
  double kg_per_ha = 0;                   ///< the rate; 0 without an answer
};

/// One rule of a conflict between treatments.
struct HoldConflictRule {
  std::optional<std::size_t> treatment{};  ///< whose rule it is; nothing: `held` is the rule
  ConflictingRule rule{};                  ///< of that treatment's scenario
  std::string held{};                      ///< what is held; `product` for kg of product
};

/// The treatments that were solved together.
struct HoldPlan {
  Status status = Status::stopped;  ///< a proved optimum, a proved conflict, or neither
  std::vector<HeldRate> rates{};    ///< what is equal, and between which treatments
  /// Of the product on the plots of all held treatments; the least that is possible.
  double cost = 0;
  double cost_apart = 0;                     ///< what the same would cost if nothing were held
  Certificate certificate{};                 ///< of the joint answer
  std::vector<HoldConflictRule> conflict{};  ///< cannot be kept together
  bool irreducible = false;                  ///< true: without any one of `conflict` the rest agree
  std::string detail{};                      ///< why the search ended, where it stopped
};

}  // namespace leastwise

#pragma once
#include <leastwise/formulate.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwise::solve {

/// One of several questions that are answered together.
struct Part {
  const Scenario* scenario = nullptr;
  /// kg of product per hectare in the per-tonne basis; nothing in the per-hectare basis.
  std::optional<double> product_kg_per_ha{};
  double hectares = 1;  ///< its weight in the total cost
};

/// What parts have in common: the rate of a nutrient, or of the product.
struct Common {
  std::string nutrient{};  ///< empty: kg of product per hectare
  /// Two or more; each a part, or several whose rates are added up.
  std::vector<std::vector<std::size_t>> members{};
};

/// A rule that is part of a conflict.
struct JointRule {
  std::optional<std::size_t> part{};  ///< nothing: `common` is the rule
  ConflictingRule rule{};             ///< of that part
  std::size_t common = 0;             ///< into the common rates
};

/// The answer to all parts at once.
struct JointAnswer {
  Status status = Status::stopped;
  std::vector<Blend> blends{};  ///< one a part, when optimal; no prices of rules
  std::vector<double> rates{};  ///< kg/ha of each common rate, when optimal
  double cost = 0;              ///< currency, over all hectares
  Certificate certificate{};
  std::vector<JointRule> conflict{};
  bool irreducible = false;
  StopCause cause = StopCause::numerical;
  std::string detail{};
};

/// The blends of `parts` that cost least together, each obeying its own scenario and all having the
/// `commons` in common: one model, one search, one certificate. What is found is held against each
/// scenario's own numbers, and so are the common rates. Bins are counted in each scenario by
/// itself.
[[nodiscard]] JointAnswer formulate_together(std::span<const Part> parts,
                                             std::span<const Common> commons,
                                             const SolveOptions& options);

}  // namespace leastwise::solve

#pragma once
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwise::support {

/// `lower <= sum coefficient[i] * x[i] <= upper`, and which rule of a report it is.
struct LinearRule {
  RuleId id{};
  std::vector<double> coefficient{};
  double lower = 0;
  double upper = 0;
};

/// Two groups of materials of which only one may lie in the blend.
struct Apart {
  RuleId id{};
  std::vector<std::size_t> first{};
  std::vector<std::size_t> second{};
};

/// What a scenario asks, read independently of the library's own model.
///
/// Amounts x are kg per hectare or kg per tonne of product. Contents, reach, mass and cost are
/// worked out again from the materials and the draft, so that a disagreement means something.
struct Reading {
  Basis basis = Basis::per_tonne;
  std::vector<double> cost_per_kg{};
  std::vector<double> mass{};  ///< kg of product per kg used: powders bring their binder
  std::vector<char> enters{};  ///< 1: the form lets it in
  std::vector<char> granule{};
  std::vector<double> minimum_if_used{};  ///< fraction of the product; 0: none
  std::vector<LinearRule> rules{};
  std::vector<Apart> apart{};
  int bins = 0;  ///< 0: no limit
  std::vector<std::string> material{};

  [[nodiscard]] std::size_t size() const { return mass.size(); }
  [[nodiscard]] double total(const std::vector<double>& x) const;
  [[nodiscard]] double cost(const std::vector<double>& x) const;
};

/// How many times its coated rate a micronutrient granule must supply where no draft says so.
/// Common practice for metals; boron and the like move with soil water, from memory.
[[nodiscard]] inline double unstated_factor(std::string_view nutrient) {
  return nutrient == "Cu" || nutrient == "Fe" || nutrient == "Mn" || nutrient == "Zn" ? 3 : 1;
}

[[nodiscard]] Reading read(const Scenario& scenario);

/// The id of a minimum if used, and of the bins.
[[nodiscard]] RuleId least_of(const std::string& material);
[[nodiscard]] RuleId bins_rule();

/// True for the rule that a tonne is a tonne, which no user states.
[[nodiscard]] bool is_structural(const LinearRule& rule);

/// `reading` with only the rules of those ids, and what no user can take back: the forms and
/// the tonne of a per-tonne blend.
[[nodiscard]] Reading restricted_to(const Reading& reading, const std::set<RuleId>& ids);

}  // namespace leastwise::support

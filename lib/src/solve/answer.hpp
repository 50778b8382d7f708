#pragma once
#include <leastwise/formulate.hpp>

#include <optional>
#include <string>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// What one call of `formulate` works on.
struct Task {
  const Scenario& scenario;
  const model::Model& model;
  const SolveOptions& options;
  const solver::SearchOptions& search;
};

/// `leastwise::formulate` of a scenario whose model is built.
[[nodiscard]] Formulation formulate(const Scenario& scenario, const model::Model& model,
                                    const SolveOptions& options, solver::Root root);

/// The portions of a blend, largest first; ties by the order of definition.
[[nodiscard]] std::vector<Portion> portions_of(const Scenario& scenario,
                                               const std::vector<double>& kg);

/// What is bought of the materials with price tiers, or with a minimum lot.
[[nodiscard]] std::vector<BlendPurchase> purchases_of(const Scenario& scenario,
                                                      const std::vector<double>& kg);

/// Whether `cost` is what `blend` costs by the scenario's own price tiers, each at what is bought.
[[nodiscard]] bool cost_is_confirmed(const Scenario& scenario, const Blend& blend, double cost);

/// Warns of each material in use that feeds a fire, by whatever name the scenario gives it.
void add_oxidizer_caution(const Scenario& scenario, const std::vector<double>& kg,
                          std::vector<Note>& notes);

/// Warns of each pair in use that may be mixed but not stored.
void add_limited_cautions(const Scenario& scenario, const std::vector<double>& kg,
                          std::vector<Note>& notes);

/// Both of these.
[[nodiscard]] std::vector<Note> cautions_of(const Scenario& scenario,
                                            const std::vector<double>& kg);

/// Everything a proven optimum has to say; a stop where its cost is not what the tiers say.
[[nodiscard]] Formulation blend_answer(const Task& task, const solver::SearchResult& solution);

/// Adds the rules that set the price at `solution`, with prices and, when asked for, their
/// intervals. A rule that is met exactly counts also where this basis gives it no price.
void add_binding_rules(const Task& task, const solver::SearchResult& solution, Blend& blend);

/// The materials left out and the price at which each would enter.
[[nodiscard]] std::vector<UnusedMaterial> unused_materials(const Task& task,
                                                           const solver::SearchResult& solution);

/// Adds the pairs kept apart that make the blend dearer.
void add_exclusion_costs(const Task& task, const solver::SearchResult& solution, Blend& blend);

/// A rule, or the mass of the product, which is none of the scenario's rules.
struct NamedRule {
  std::string name{};
  std::optional<RuleId> id{};
};

/// The rule that holds a row, or the bound of a column, of the leaf of `solution`.
[[nodiscard]] NamedRule rule_of_row(const Task& task, const solver::SearchResult& solution,
                                    int row);
[[nodiscard]] NamedRule rule_of_bound(const Task& task, const solver::SearchResult& solution,
                                      int column);

/// Adds what each rule pays for, and whether that adds up to the cost.
void add_cost_parts(const Task& task, const solver::SearchResult& solution, Blend& blend);

/// Adds what a kg of each nutrient costs; wants the portions, the supply and the cost parts.
void add_nutrient_costs(const Scenario& scenario, Blend& blend);

/// Adds why the blend takes none, or no more, of the materials asked about.
void add_why(const Task& task, const solver::SearchResult& solution, Blend& blend);

/// Which rules of an infeasible scenario conflict and what to change.
[[nodiscard]] Conflict conflict_answer(const Task& task);

/// Why the search ended, with what it knew.
[[nodiscard]] Stopped stopped_answer(const Task& task, const solver::SearchResult& solution);

/// A binding rule of that id, named, with the unit of its price.
[[nodiscard]] BindingRule binding_of(const Scenario& scenario, const rules::Origin& origin);

/// True once the deadline or a request to stop forbids further solving.
[[nodiscard]] bool out_of_time(const Task& task);

}  // namespace leastwise::solve

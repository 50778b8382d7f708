#include <algorithm>
#include <cmath>
#include <optional>

#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/sensitivity/entry_price.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

/// Finds for each column left out why it is, and its entry price.
class EntryPrices {
 public:
  EntryPrices(const Task& task, const solver::SearchResult& solution)
      : task_(task),
        solution_(solution),
        reduced_(solver::reduced_costs(solution.leaf, solution.y)),
        either_or_(task.model.either_or()),
        degenerate_(is_degenerate(solution)) {}

  void fill(std::size_t j, UnusedMaterial& unused) {
    const auto& model = task_.model;
    if (model.column_upper[j] <= 0) {
      const auto i = static_cast<std::size_t>(model.material_of[j]);
      const auto unasked = task_.scenario.unasked();
      unused.why = std::ranges::find(unasked, i, &Unasked::material) == unasked.end()
                       ? "limits"
                       : "unasked micronutrient";
      unused.enters_below_price_per_t = Known<double>::none();
      return;
    }
    unused.why = reason(j);
    const double cost = model.cost[j];
    const double fixed = cost - unused.price_per_t / kg_per_tonne;  // freight, binder, fee
    const auto to_price = [&](double cost_per_kg) {
      return (cost_per_kg - fixed) * kg_per_tonne + 0.0;
    };
    const bool free_in_leaf = solution_.leaf.upper[j] > 0;
    const double by_reduced_cost = cost - reduced_[j];
    if (!either_or_ && !degenerate_) {
      unused.enters_below_price_per_t = from_zero_up(to_price(by_reduced_cost), unused);
      return;
    }
    if (!task_.options.intervals || out_of_time(task_)) return;
    if (!either_or_) {
      if (!program_) program_.emplace(solution_);
      const auto first =
          entry_cost_of_first(*program_, static_cast<int>(j), solution_, task_.search);
      if (first) unused.enters_below_price_per_t = from_zero_up(to_price(*first), unused);
      if (first.is_none()) unused.enters_below_price_per_t = first;
      if (first.is_computed()) return;
    }
    auto entry = Known<double>::none();
    if (free_in_leaf)
      entry = entry_cost_per_kg(model, static_cast<int>(j), solution_,
                                by_reduced_cost - 1e-3 * std::max(std::fabs(by_reduced_cost), 1e-3),
                                task_.search);
    if (entry.is_none() && fixed < cost)
      entry = entry_cost_per_kg(model, static_cast<int>(j), solution_, fixed, task_.search);
    unused.enters_below_price_per_t = entry ? from_zero_up(to_price(*entry), unused) : entry;
  }

 private:
  /// An entry price, never above the price at which the material is left out. None where it would
  /// have to be given away with money; a gate fee may go lower still.
  [[nodiscard]] static Known<double> from_zero_up(double entry, const UnusedMaterial& unused) {
    entry = std::min(entry, unused.price_per_t);
    const double noise = 1e-9 * std::max(1.0, std::fabs(unused.price_per_t));
    return unused.price_per_t >= 0 && entry <= noise ? Known<double>::none() : Known(entry);
  }

  [[nodiscard]] std::string reason(std::size_t j) const {
    if (solution_.leaf.upper[j] > 0) return "price";
    const auto& model = task_.model;
    for (const auto& apart : model.apart) {
      int other = -1;
      if (apart.family_a == model.family_of[j]) other = apart.family_b;
      if (apart.family_b == model.family_of[j]) other = apart.family_a;
      if (other < 0) continue;
      for (const int k : model.families[static_cast<std::size_t>(other)])
        if (solution_.x[static_cast<std::size_t>(k)] > 0) return "exclusion";
    }
    for (const auto& minimum : model.minima)
      if (minimum.column == static_cast<int>(j))
        return minimum.of == model::MinimumIfUsed::Of::lot ? "minimum lot" : "minimum if used";
    return model.bins && model.is_granule[j] ? "bins" : "price";
  }

  const Task& task_;
  const solver::SearchResult& solution_;
  std::vector<double> reduced_;
  bool either_or_;
  bool degenerate_;
  std::optional<BasisProgram> program_{};  ///< once it is asked for
};

}  // namespace

std::vector<UnusedMaterial> unused_materials(const Task& task,
                                             const solver::SearchResult& solution) {
  std::vector<UnusedMaterial> list;
  EntryPrices prices(task, solution);
  const auto materials = task.scenario.materials();
  std::vector<int> column_of(materials.size(), -1);
  for (std::size_t j = 0; j < task.model.material_of.size(); ++j)
    if (task.model.material_of[j] >= 0)
      column_of[static_cast<std::size_t>(task.model.material_of[j])] = static_cast<int>(j);
  for (std::size_t i = 0; i < materials.size(); ++i) {
    const int j = column_of[i];
    if (j >= 0 && solution.x[static_cast<std::size_t>(j)] > 0) continue;
    UnusedMaterial unused;
    unused.material = materials[i].name;
    unused.price_per_t = materials[i].price_per_t;
    if (j < 0) {
      unused.why = "form";
      unused.enters_below_price_per_t = Known<double>::none();
    } else {
      prices.fill(static_cast<std::size_t>(j), unused);
    }
    list.push_back(std::move(unused));
  }
  return list;
}

void add_exclusion_costs(const Task& task, const solver::SearchResult& solution, Blend& blend) {
  blend.exclusions_complete = task.model.apart.empty();
  if (!task.options.intervals || task.model.apart.empty()) return;
  auto cheaper_only = task.search;
  cheaper_only.cutoff = solution.cost - 1e-8 * std::max(1.0, std::fabs(solution.cost));
  auto free_of_all = task.model;
  for (auto& apart : free_of_all.apart) apart.active = false;
  blend.exclusions_complete = true;
  if (solver::search(free_of_all, cheaper_only).status == solver::SearchStatus::infeasible)
    return;  // not even all pairs together cost anything
  const double total = model::total_mass(task.scenario, task.model, solution.x);
  for (std::size_t k = 0; k < task.model.apart.size(); ++k) {
    auto lifted = task.model;
    lifted.apart[k].active = false;
    const auto found = solver::search(lifted, cheaper_only);
    if (found.status == solver::SearchStatus::infeasible) continue;
    if (found.status != solver::SearchStatus::optimal) {
      blend.exclusions_complete = false;
      continue;
    }
    const auto& exclusion = task.scenario.exclusions()[task.model.apart[k].exclusion];
    ExclusionCost cost{exclusion.family_a, exclusion.family_b, exclusion.reason, 0, {},
                       exclusion.source,   exclusion.lifted_by};
    const double saved = solution.cost - found.cost;
    cost.costs_per_t = total > 0 ? saved / total * kg_per_tonne : 0;
    if (task.scenario.basis() == Basis::per_hectare) cost.costs_per_ha = saved;
    blend.exclusions.push_back(std::move(cost));
  }
}

}  // namespace leastwise::solve

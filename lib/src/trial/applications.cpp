#include "trial/applications.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>

#include "base/text/wording.hpp"
#include "trial/asked.hpp"
#include "trial/mixing.hpp"

namespace leastwise::trial {
namespace {

const SplitShares* shares_of(std::span<const SplitShares> splits, std::string_view what) {
  for (const auto& split : splits)
    if (same_nutrient(split.of, what)) return &split;
  if (const auto parent = parent_of_form(what))
    for (const auto& split : splits)
      if (same_nutrient(split.of, *parent)) return &split;
  for (const auto& split : splits)
    if (split.of == "product") return &split;
  return nullptr;
}

/// `limits` times `share`; a share of nothing has no minimum and an exact rate of zero.
Limits shared(Limits limits, double share) {
  const bool exact = limits.exact();
  if (limits.has_max()) limits.max *= share;
  if (exact) limits.min = limits.max;
  if (!exact && limits.has_min()) limits.min *= share;
  if (share == 0 && limits.has_min()) limits.min = Limits{}.min;
  return limits;
}

double planned_of(const TreatmentPlan& plan, const std::string& nutrient, bool achieved) {
  for (const auto& check : plan.nutrients) {
    if (!same_nutrient(check.nutrient, nutrient)) continue;
    const double factor =
        check.nutrient == nutrient ? 1.0 : conversion_factor(check.nutrient, nutrient).value_or(1);
    return factor * (achieved ? check.achieved_kg_per_ha : check.planned_kg_per_ha);
  }
  return 0;
}

void add_nutrients(const TreatmentPlan& plan, TreatmentTotal& total) {
  for (const auto& check : plan.nutrients) {
    const bool known = std::ranges::any_of(total.nutrients, [&](const TotalNutrient& other) {
      return same_nutrient(other.nutrient, check.nutrient);
    });
    if (known) continue;
    TotalNutrient nutrient;
    nutrient.nutrient = check.nutrient;
    total.nutrients.push_back(std::move(nutrient));
  }
}

void sum_up(const TrialPlan& plan, const TreatmentTotal& total, TotalNutrient& nutrient) {
  for (const std::size_t t : total.products) {
    const double planned = planned_of(plan.treatments[t], nutrient.nutrient, false);
    const double achieved = planned_of(plan.treatments[t], nutrient.nutrient, true);
    nutrient.each_kg_per_ha.push_back(planned);
    nutrient.each_achieved_kg_per_ha.push_back(achieved);
    nutrient.planned_kg_per_ha += planned;
    nutrient.achieved_kg_per_ha += achieved;
  }
}

bool is_done(const TreatmentPlan& plan) {
  return plan.state == TreatmentState::planned || plan.state == TreatmentState::nothing;
}

}  // namespace

double share_of(std::span<const SplitShares> splits, std::span<const Application> applications,
                std::string_view what, std::size_t k) {
  const SplitShares* split = shares_of(splits, what);
  if (split == nullptr) return k == 0 ? 1 : 0;
  for (const auto& share : split->shares)
    if (share.application == applications[k].name) return share.percent / 100;
  return 0;
}

ScenarioDraft part_of(const Scenario& whole, std::span<const SplitShares> splits,
                      std::span<const Application> applications, std::size_t k, std::size_t count) {
  ScenarioDraft draft = whole.draft();
  for (auto& rate : draft.rates_kg_per_ha) {
    const bool open = !rate.limits.has_min() && shares_of(splits, rate.nutrient) == nullptr;
    rate.limits = shared(rate.limits, open ? 1.0 / static_cast<double>(count)
                                           : share_of(splits, applications, rate.nutrient, k));
  }
  std::erase_if(draft.rates_kg_per_ha, [](const TargetDraft& rate) {
    return !rate.limits.has_min() && !rate.limits.has_max();
  });
  if (draft.total_kg_per_ha)
    draft.total_kg_per_ha =
        shared(*draft.total_kg_per_ha, share_of(splits, applications, "product", k));
  return draft;
}

std::vector<std::vector<std::size_t>> products_of(const Trial& trial) {
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t t = 0; t < trial.treatments().size(); ++t) {
    if (!trial.treatments()[t].again) groups.emplace_back();
    groups.back().push_back(t);
  }
  return groups;
}

std::vector<std::size_t> on_plots(const Trial& trial) {
  std::vector<std::size_t> first;
  for (const auto& products : products_of(trial)) first.push_back(products.front());
  return first;
}

std::vector<TreatmentTotal> totals_of(const Trial& trial, const TrialPlan& plan) {
  std::vector<TreatmentTotal> totals;
  for (const auto& products : products_of(trial)) {
    const Treatment& treatment = trial.treatments()[products.front()];
    TreatmentTotal total;
    total.name = treatment.treatment;
    total.code = treatment.treatment_code;
    total.products = products;
    total.complete = true;
    for (const std::size_t t : products) {
      const TreatmentPlan& product = plan.treatments[t];
      total.complete = total.complete && is_done(product);
      add_nutrients(product, total);
      if (product.state != TreatmentState::planned) continue;
      total.product_kg_per_ha += product.product_kg_per_ha;
      total.cost_per_ha += product.recipe.cost_per_ha;
    }
    for (auto& nutrient : total.nutrients) {
      sum_up(plan, total, nutrient);
      if (treatment.kind == TreatmentKind::blend)
        nutrient.asked_kg_per_ha = asked_of(treatment, nutrient.nutrient).rate_kg_per_ha;
    }
    totals.push_back(std::move(total));
  }
  return totals;
}

void hold_totals_to_ceilings(const Trial& trial, TrialPlan& plan) {
  constexpr double room = 1.01;  // what rounding may do to each product
  for (const auto& total : totals_of(trial, plan)) {
    const auto& whole = trial.treatments()[total.products.front()].whole;
    if (!whole || total.products.size() < 2) continue;
    for (const auto& ceiling : whole->ceilings()) {
      double sum = 0;
      for (const std::size_t t : total.products)
        sum += planned_of(plan.treatments[t], ceiling.element, true);
      if (!(sum > ceiling.kg_per_ha * room)) continue;
      for (const std::size_t t : total.products) {
        plan.treatments[t].notes.push_back(
            {NoteLevel::warning,
             NoteCode::rate_above_usual,
             {ceiling.element},
             "over all applications it would bring " + rounded_text(sum) + " kg/ha of " +
                 ceiling.element + ", and no treatment may bring more than " +
                 rounded_text(ceiling.kg_per_ha) + ": limit the rate of " + ceiling.element});
        give_up(plan.treatments[t]);
      }
    }
  }
}

}  // namespace leastwise::trial

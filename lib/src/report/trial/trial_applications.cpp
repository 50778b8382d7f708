#include "report/trial/trial_applications.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "report/kit/numbers.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

std::string rate_text(double planned, double achieved) {
  return fmt::format("{} ({})", plain_text(planned, 4), plain_text(achieved, 4));
}

/// Every nutrient of a split treatment, in the order met.
std::vector<std::string> nutrients_of(const std::vector<const TreatmentTotal*>& totals) {
  std::vector<std::string> names;
  for (const auto* total : totals)
    for (const auto& nutrient : total->nutrients)
      if (std::ranges::find(names, nutrient.nutrient) == names.end())
        names.push_back(nutrient.nutrient);
  return names;
}

const TotalNutrient* find(const TreatmentTotal& total, const std::string& name) {
  const auto found = std::ranges::find(total.nutrients, name, &TotalNutrient::nutrient);
  return found == total.nutrients.end() ? nullptr : &*found;
}

void add_product(const TrialPlan& plan, const TreatmentTotal& total, std::size_t p,
                 const std::vector<std::string>& names, Table& table) {
  const TreatmentPlan& product = plan.treatments[total.products[p]];
  std::vector<std::string> cells{product.code, plan.applications[product.application].name};
  const bool planned = product.state == TreatmentState::planned;
  cells.push_back(planned ? plain_text(product.product_kg_per_ha)
                          : std::string(state_of_plot(product)));
  for (const auto& name : names) {
    const TotalNutrient* nutrient = find(total, name);
    cells.push_back(
        nutrient == nullptr || !planned
            ? ""
            : rate_text(nutrient->each_kg_per_ha[p], nutrient->each_achieved_kg_per_ha[p]));
  }
  table.add_row(std::move(cells));
}

void add_sum(const TreatmentTotal& total, const std::vector<std::string>& names, Table& table) {
  std::vector<std::string> cells{total.code, "in all", plain_text(total.product_kg_per_ha)};
  for (const auto& name : names) {
    const TotalNutrient* nutrient = find(total, name);
    cells.push_back(nutrient == nullptr
                        ? ""
                        : rate_text(nutrient->planned_kg_per_ha, nutrient->achieved_kg_per_ha));
  }
  table.add_row(std::move(cells));
}

}  // namespace

std::string application_text(const TrialPlan& plan, std::size_t application) {
  if (plan.applications.empty()) return {};
  const Application& one = plan.applications[application];
  std::string text =
      fmt::format("application {} of {}: {}", application + 1, plan.applications.size(), one.name);
  if (!one.stage.empty()) text += ", " + one.stage;
  if (!one.on.empty()) text += ", " + one.on;
  return text;
}

std::size_t rounds_of(const TrialPlan& plan) {
  return std::max<std::size_t>(1, plan.applications.size());
}

bool has_plots(const TrialPlan& plan, std::size_t site, std::size_t application) {
  return std::ranges::any_of(plan.plots, [&](const Plot& plot) {
    return plot.site == site && plot.application == application;
  });
}

Table application_totals(const TrialPlan& plan) {
  std::vector<const TreatmentTotal*> totals;
  for (const auto& total : plan.totals)
    if (total.products.size() > 1) totals.push_back(&total);
  Table table;
  table.add_words("");
  table.add_words("");
  table.add_words("product");
  const auto names = nutrients_of(totals);
  for (const auto& name : names) table.add_words(name);
  for (const auto* total : totals) {
    for (std::size_t p = 0; p < total->products.size(); ++p)
      add_product(plan, *total, p, names, table);
    if (total->complete) add_sum(*total, names, table);
  }
  return table;
}

std::string label_of(const TrialPlan& plan, const Plot& plot) {
  if (plan.applications.empty() || plot.packs.empty()) return plot.code;
  return fmt::format("{}-A{}", plot.code, plot.application + 1);
}

std::string products_text(const TrialPlan& plan, const TreatmentTotal& total) {
  std::string text;
  for (const std::size_t t : total.products) {
    const TreatmentPlan& product = plan.treatments[t];
    if (!text.empty()) text += " + ";
    if (product.state == TreatmentState::planned) {
      text += plain_text(product.product_kg_per_ha) + " kg/ha";
    } else {
      text += product.state == TreatmentState::nothing ? "nothing is spread"
                                                       : not_made_text(product.state);
    }
    if (total.products.size() > 1 || product.application > 0)
      text += " at " + plan.applications[product.application].name;
  }
  return text;
}

}  // namespace leastwise::report

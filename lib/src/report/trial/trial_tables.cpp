#include "report/trial/trial_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/trial/trial_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string with_decimals(double number, int decimals) {
  return fmt::format("{:.{}f}", number, decimals);
}

/// Percent of a grade: as many decimals as a label has.
std::string percent_text(double percent) { return plain_text(std::round(percent * 100) / 100, 6); }

/// Every material of any treatment: granules, powders, binders, each in the order met.
std::vector<std::string> materials_in(const TrialPlan& plan) {
  std::vector<std::string> names;
  for (const auto role : {Role::granule, Role::powder, Role::binder, Role::dissolved}) {
    for (const auto& treatment : plan.treatments) {
      for (const auto& line : treatment.recipe.lines) {
        if (line.role != role || std::ranges::find(names, line.material) != names.end()) continue;
        names.push_back(line.material);
      }
    }
  }
  return names;
}

const RecipeLine* line_of(const Recipe& recipe, const std::string& material) {
  const auto found = std::ranges::find(recipe.lines, material, &RecipeLine::material);
  return found == recipe.lines.end() ? nullptr : &*found;
}

std::string compared_text(const ComparedRate& rate) {
  return fmt::format("{}{} ({})", plain_text(rate.planned_kg_per_ha, 4),
                     rate.differs_unasked ? "*" : "", plain_text(rate.achieved_kg_per_ha, 4));
}

std::string treatments_text(const TrialPlan& plan, const std::vector<std::size_t>& treatments) {
  std::size_t solved = 0;
  for (const auto& treatment : plan.treatments)
    solved += treatment.answer && !treatment.again ? 1U : 0U;
  if (treatments.size() == solved) return "all solved treatments";
  std::string text;
  for (const std::size_t t : treatments)
    text += (text.empty() ? "" : " ") + plan.treatments[t].treatment_code;
  return text;
}

void add_conflict(const TrialPlan& plan, std::vector<std::string>& lines) {
  for (const auto& rule : plan.hold->conflict) {
    if (!rule.treatment) {
      lines.push_back(fmt::format("hold: {}", rule.held == "product" ? "the same kg/ha of product"
                                                                     : "one rate of " + rule.held));
      continue;
    }
    const TreatmentPlan& treatment = plan.treatments[*rule.treatment];
    std::string text = fmt::format("{} {}: ", treatment.code, treatment.name);
    text += rule.rule.limit ? rule_in_words(rule.rule.id, rule.rule.limit, rule.rule.unit)
                            : rule.rule.rule;
    if (!rule.rule.detail.empty()) text += ": " + rule.rule.detail;
    if (rule.rule.shortfall)
      text += fmt::format("; alone it must change by {}", plain_text(*rule.rule.shortfall, 4));
    lines.push_back(text + place_text(rule.rule.place));
  }
}

}  // namespace

Table recipe_table(const TrialPlan& plan) {
  Table table;
  table.add_words("");
  table.add_words("treatment");
  const auto materials = materials_in(plan);
  for (const auto& name : materials) table.add_numbers(name);
  table.add_numbers("product");
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) continue;
    std::vector<std::string> cells{treatment.code, treatment.name};
    for (const auto& name : materials) {
      const RecipeLine* line = line_of(treatment.recipe, name);
      cells.push_back(line == nullptr ? "" : plain_text(line->kg_per_ha, 5));
    }
    cells.push_back(plain_text(treatment.product_kg_per_ha, 6));
    table.add_row(std::move(cells));
  }
  return table;
}

Table grade_table(const TrialPlan& plan) {
  Table table;
  table.add_words("");
  table.add_words("grade");
  const auto materials = materials_in(plan);
  for (const auto& name : materials) table.add_numbers(name);
  const std::string money(currency_words(plan.currency));
  table.add_numbers(money + "/ha");
  table.add_numbers(money + " in all");
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) continue;
    std::vector<std::string> cells{treatment.code, grade_text(treatment.recipe)};
    for (const auto& name : materials) {
      const RecipeLine* line = line_of(treatment.recipe, name);
      cells.push_back(line == nullptr || line->role == Role::dissolved
                          ? ""
                          : with_decimals(line->percent, line->percent < 1 ? 3 : 2));
    }
    cells.push_back(money_text(treatment.recipe.cost_per_ha));
    cells.push_back(money_text(treatment.recipe.cost_of_loads));
    table.add_row(std::move(cells));
  }
  return table;
}

Table nutrient_comparison(const TrialPlan& plan) {
  Table table;
  table.add_words("");
  for (const auto& nutrient : plan.nutrients)
    table.add_words(nutrient.nutrient + (nutrient.held ? " held" : ""));
  for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
    std::vector<std::string> cells{plan.treatments[t].treatment_code};
    bool any = false;
    for (const auto& nutrient : plan.nutrients) {
      const auto rate = std::ranges::lower_bound(nutrient.rates, t, {}, &ComparedRate::treatment);
      const bool there = rate != nutrient.rates.end() && rate->treatment == t;
      cells.push_back(there ? compared_text(*rate) : "");
      any = any || there;
    }
    if (any) table.add_row(std::move(cells));
  }
  return table;
}

std::string comparison_key(const TrialPlan& plan) {
  const bool marked = std::ranges::any_of(
      plan.nutrients, [](const ComparedNutrient& n) { return n.differs_unasked; });
  if (!marked) return {};
  return "* more than 1 % off the treatments that ask the same of this nutrient";
}

std::string grade_text(const Recipe& recipe) {
  std::string text;
  for (std::size_t i = 0; i < recipe.grade.size(); ++i) {
    const GradePart& part = recipe.grade[i];
    if (i < 3) {
      text += (text.empty() ? "" : "-") + percent_text(part.percent);
    } else if (part.percent >= 0.05 && part.nutrient != "Na" && part.nutrient != "Cl") {
      text += fmt::format(" + {} {}", percent_text(part.percent), part.nutrient);
    }
  }
  return text;
}

std::vector<std::string> by_hand(const TrialPlan& plan, const TreatmentPlan& treatment) {
  std::vector<std::string> lines;
  for (const auto& group : treatment.by_size) {
    const auto all = group.pack_mg * static_cast<std::int64_t>(group.plots);
    lines.push_back(fmt::format(
        "{} kg/ha x {} m2 / 10 = {} g a plot, packed {}; x {} plot{} of {} = {}",
        plain_text(treatment.product_kg_per_ha), plain_text(group.area_m2, 9),
        plain_text(treatment.product_kg_per_ha * group.area_m2 / 10, 6), exact_mass(group.pack_mg),
        group.plots, group.plots == 1 ? "" : "s", plan.sites[group.site].name, exact_mass(all)));
  }
  return lines;
}

std::vector<std::string> hold_lines(const TrialPlan& plan) {
  std::vector<std::string> lines;
  if (!plan.hold) return lines;
  const HoldPlan& hold = *plan.hold;
  if (hold.rates.empty()) return {"fewer than two treatments are solved: nothing to hold equal"};
  if (hold.status == Status::stopped) return {"not solved together: " + hold.detail};
  if (hold.status == Status::infeasible) {
    lines.emplace_back("the treatments cannot be made so: these rules contradict one another");
    add_conflict(plan, lines);
    return lines;
  }
  for (const auto& rate : hold.rates) {
    lines.push_back(
        fmt::format("{} {} kg/ha in {}", rate.nutrient.empty() ? "product" : rate.nutrient,
                    plain_text(rate.kg_per_ha, 5), treatments_text(plan, rate.treatments)));
  }
  lines.push_back(fmt::format(
      "the plots of these treatments cost {} {} together, the least that is possible so; {} if "
      "nothing were held (proved: worst violation {}, gap {})",
      money_text(hold.cost), currency_words(plan.currency), money_text(hold.cost_apart),
      bound_text(std::max(hold.certificate.primal_violation, hold.certificate.dual_violation)),
      bound_text(std::abs(hold.certificate.gap))));
  return lines;
}

}  // namespace leastwise::report

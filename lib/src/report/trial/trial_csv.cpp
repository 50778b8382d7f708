#include <leastwise/trial_report.hpp>

#include <cmath>
#include <cstddef>
#include <optional>

#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

std::string exact_number(double value) {
  constexpr int digits = 12;
  return std::isfinite(value) ? plain_text(value, digits) : std::string{};
}

std::string kg(std::int64_t mg) { return exact_number(static_cast<double>(mg) / 1e6); }

/// The steps of the stock mixes, in the columns of the batch list.
std::string mixes_csv(const TrialPlan& plan) {
  std::string csv;
  for (const auto& mix : plan.mixes) {
    for (const auto& step : mix.steps) {
      for (const auto& w : step.weighings) {
        csv +=
            csv_line({step.batch_code, "", mix.code, w.material, std::string(role_in_mix(mix, w)),
                      exact_grams(w.mass_mg), exact_grams(w.mass_mg), w.balance,
                      exact_grams(w.readability_mg), "1", plan.fingerprint, "", "", ""});
      }
    }
  }
  return csv;
}

std::string batches_csv(const TrialPlan& plan) {
  std::string csv =
      "batch,treatment_code,treatment,material,role,target_g,weigh_g,balance,readability_g,"
      "weighings,plan,actual_g,lot,initials\n";
  csv += mixes_csv(plan);
  for (const auto& treatment : plan.treatments) {
    for (const auto& code : treatment.batch_codes) {
      for (const auto& w : treatment.weighings) {
        csv += csv_line({code, treatment.code, treatment.name, material_name(w),
                         std::string(to_string(w.role)), exact_number(w.target_g),
                         exact_grams(w.mass_mg), w.balance, exact_grams(w.readability_mg),
                         std::to_string(w.parts_mg.size()), plan.fingerprint, "", "", ""});
      }
    }
  }
  return csv;
}

std::string recipes_csv(const TrialPlan& plan) {
  std::string csv =
      "treatment_code,treatment,state,material,role,kg_per_ha,percent_of_product,price_per_t,"
      "cost_per_ha,in_loads_g,product_kg_per_ha,grade,product_cost_per_ha,cost_of_loads,currency,"
      "application,whole_treatment_code\n";
  for (const auto& treatment : plan.treatments) {
    const Recipe& recipe = treatment.recipe;
    const bool made = treatment.state == TreatmentState::planned;
    const auto line = [&](const RecipeLine* l) {
      const auto number = [&](bool there, double value) {
        return there ? exact_number(value) : std::string();
      };
      csv += csv_line(
          {treatment.code, treatment.name, std::string(to_string(treatment.state)),
           l != nullptr ? l->material : "", l != nullptr ? std::string(to_string(l->role)) : "",
           number(l != nullptr, l != nullptr ? l->kg_per_ha : 0),
           number(l != nullptr, l != nullptr ? l->percent : 0),
           number(l != nullptr, l != nullptr ? l->price_per_t : 0),
           number(l != nullptr, l != nullptr ? l->cost_per_ha : 0),
           l != nullptr ? exact_grams(l->in_loads_mg) : "",
           number(made, treatment.product_kg_per_ha), made ? grade_text(recipe) : "",
           number(made, recipe.cost_per_ha), number(made, recipe.cost_of_loads), plan.currency,
           std::to_string(treatment.application + 1), treatment.treatment_code});
    };
    for (const auto& l : recipe.lines) line(&l);
    if (recipe.lines.empty()) line(nullptr);
  }
  return csv;
}

std::string hazards_cell(const TreatmentPlan& treatment) {
  std::string cell;
  for (const auto& hazard : treatment.hazards) cell += (cell.empty() ? "" : "; ") + hazard.text;
  return cell;
}

/// The codes of the batches that a pack is filled from, each in full.
std::string batches_cell(const TreatmentPlan& treatment, const Pack& pack) {
  std::string cell = treatment.batch_codes[pack.first_load];
  for (std::size_t load = pack.first_load + 1; load <= pack.last_load; ++load) {
    cell += "; " + treatment.batch_codes[load];
  }
  return cell;
}

/// `plot`, `guard`, `headland` or `border`.
std::string kind_of_plot(const Plot& plot) {
  return plot.guard && plot.strip == StripKind::none ? "guard" : std::string(to_string(plot.strip));
}

/// The solutions that a plot gets, or their masses.
std::string solutions_cell(const TrialPlan& plan, const Plot& plot, bool masses) {
  std::string cell;
  for (const auto& spray : plot.sprays) {
    const Spray& of = plan.treatments[plot.treatment].sprays[spray.spray];
    cell += (cell.empty() ? "" : "; ") +
            (masses ? exact_grams(spray.mass_mg) : plan.mixes[*of.mix].code);
  }
  return cell;
}

std::string plots_csv(const TrialPlan& plan) {
  std::string csv =
      "plot_code,site_code,site,replicate,plot,treatment_code,treatment,area_m2,label,container,"
      "mass_g,balance,state,batch,hazards,spread_by,row,column,block,application,"
      "whole_treatment_code,kind,solution,solution_g\n";
  for (const auto& plot : plan.plots) {
    const Site& site = plan.sites[plot.site];
    const auto& treatment = plan.treatments[plot.treatment];
    const std::string state =
        treatment.state == TreatmentState::planned || treatment.state == TreatmentState::nothing
            ? std::string(state_of_plot(treatment))
            : "NOT MADE";
    const std::string hazards = hazards_cell(treatment);
    const auto line = [&](const std::string& label, const std::string& mass,
                          const std::string& batch) {
      csv += csv_line({plot.code,
                       site.code,
                       site.name,
                       std::to_string(plot.replicate),
                       std::to_string(plot.number),
                       treatment.code,
                       treatment.name,
                       exact_number(plot.area_m2),
                       label,
                       plot.container,
                       mass,
                       plot.balance,
                       state,
                       batch,
                       hazards,
                       treatment.spread_by,
                       std::to_string(plot.row),
                       std::to_string(plot.column),
                       std::to_string(plot.block),
                       std::to_string(plot.application + 1),
                       treatment.treatment_code,
                       kind_of_plot(plot),
                       solutions_cell(plan, plot, false),
                       solutions_cell(plan, plot, true)});
    };
    for (const auto& pack : plot.packs) {
      line(pack.label, exact_grams(pack.mass_mg), batches_cell(treatment, pack));
    }
    if (plot.packs.empty()) line("", "", "");
  }
  return csv;
}

std::string stakes_csv(const TrialPlan& plan) {
  std::string csv = "plot_code,site_code,site,replicate,plot,row,column,treatment_code,treatment\n";
  for (const auto& plot : plan.plots) {
    if (!has_stake(plot)) continue;
    const Site& site = plan.sites[plot.site];
    const auto& treatment = plan.treatments[plot.treatment];
    csv += csv_line({plot.code, site.code, site.name, std::to_string(plot.replicate),
                     std::to_string(plot.number), std::to_string(plot.row),
                     std::to_string(plot.column), treatment.treatment_code, treatment.treatment});
  }
  return csv;
}

std::string nutrients_csv(const TrialPlan& plan) {
  std::string csv =
      "treatment_code,treatment,nutrient,required_min_kg_per_ha,required_max_kg_per_ha,"
      "planned_kg_per_ha,achieved_kg_per_ha,deviation_percent,readability_percent\n";
  for (const auto& treatment : plan.treatments) {
    for (const auto& check : treatment.nutrients) {
      csv += csv_line(
          {treatment.code, treatment.name, check.nutrient, exact_number(check.rate_kg_per_ha.min),
           exact_number(check.rate_kg_per_ha.max), exact_number(check.planned_kg_per_ha),
           exact_number(check.achieved_kg_per_ha), exact_number(check.deviation_percent),
           exact_number(check.readability_percent)});
    }
  }
  return csv;
}

/// Of treatments without applications the same as what their one product achieves.
std::string totals_csv(const TrialPlan& plan) {
  std::string csv =
      "treatment_code,treatment,applications,nutrient,required_min_kg_per_ha,"
      "required_max_kg_per_ha,planned_kg_per_ha,achieved_kg_per_ha,product_kg_per_ha,cost_per_ha,"
      "complete\n";
  for (const auto& total : plan.totals) {
    for (const auto& nutrient : total.nutrients) {
      csv += csv_line(
          {total.code, total.name, std::to_string(total.products.size()), nutrient.nutrient,
           exact_number(nutrient.asked_kg_per_ha.min), exact_number(nutrient.asked_kg_per_ha.max),
           exact_number(nutrient.planned_kg_per_ha), exact_number(nutrient.achieved_kg_per_ha),
           exact_number(total.product_kg_per_ha), exact_number(total.cost_per_ha),
           total.complete ? "yes" : "no"});
    }
  }
  return csv;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : "; ") + word;
  return text;
}

std::string applied_csv(const WeighedCheck& check, const TrialPlan& plan) {
  std::string csv =
      "plot_code,site_code,site,replicate,plot,treatment_code,treatment,area_m2,mass_g,nutrient,"
      "planned_kg_per_ha,applied_kg_per_ha,deviation_percent,batch,lots,status,application,"
      "whole_treatment_code,kind\n";
  const auto number = [](const std::optional<double>& value) {
    return value ? exact_number(*value) : std::string();
  };
  for (const auto& applied : check.applied) {
    const Plot& plot = plan.plots[applied.plot];
    const Site& site = plan.sites[plot.site];
    const auto& treatment = plan.treatments[plot.treatment];
    for (const auto& nutrient : applied.nutrients) {
      csv += csv_line(
          {plot.code, site.code, site.name, std::to_string(plot.replicate),
           std::to_string(plot.number), treatment.code, treatment.name, exact_number(plot.area_m2),
           exact_grams(mass_of(plot)), nutrient.nutrient, exact_number(nutrient.planned_kg_per_ha),
           number(nutrient.applied_kg_per_ha), number(nutrient.deviation_percent),
           joined(applied.batches), joined(applied.lots), applied.known ? "weighed" : "not weighed",
           std::to_string(plot.application + 1), treatment.treatment_code, kind_of_plot(plot)});
    }
  }
  return csv;
}

std::string purchases_csv(const TrialPlan& plan) {
  std::string csv =
      "material,need_kg,spare_kg,bag_kg,bags,buy_kg,left_over_kg,price_per_t,cost,in_mixes_kg,"
      "stock_kg,from_stock_kg\n";
  for (const auto& p : plan.purchases) {
    csv += csv_line(
        {p.material, kg(p.need_mg), kg(p.spare_mg), p.bag_kg ? exact_number(*p.bag_kg) : "",
         p.bag_kg ? std::to_string(p.bags) : "", exact_number(p.bought_kg),
         exact_number(p.left_over_kg), exact_number(p.price_per_t), exact_number(p.cost),
         kg(p.mix_rest_mg), exact_number(p.stock_kg), exact_number(p.from_stock_kg)});
  }
  return csv;
}

}  // namespace
}  // namespace report

std::string to_csv(const TrialPlan& plan, PlanList list) {
  switch (list) {
    case PlanList::plots:
      return report::plots_csv(plan);
    case PlanList::stakes:
      return report::stakes_csv(plan);
    case PlanList::nutrients:
      return report::nutrients_csv(plan);
    case PlanList::purchases:
      return report::purchases_csv(plan);
    case PlanList::totals:
      return report::totals_csv(plan);
    case PlanList::recipes:
      return report::recipes_csv(plan);
    case PlanList::batches:
      break;
  }
  return report::batches_csv(plan);
}

std::string to_csv(const WeighedCheck& check, const TrialPlan& plan, CheckList list) {
  return list == CheckList::applied ? report::applied_csv(check, plan) : to_csv(check);
}

std::string to_csv(const WeighedCheck& check) {
  std::string csv = "batch,treatment,kind,name,limit,planned,actual,unit,off_percent,verdict\n";
  for (const auto& batch : check.batches) {
    for (const auto& m : batch.materials) {
      csv += report::csv_line({batch.batch, batch.treatment, "material", m.material, "",
                               report::exact_grams(m.planned_mg), report::exact_number(m.weighed_g),
                               "g", report::exact_number(m.deviation_percent), ""});
    }
    for (const auto& n : batch.nutrients) {
      csv += report::csv_line({batch.batch, batch.treatment, "nutrient", n.nutrient, "",
                               report::exact_number(n.planned_kg_per_ha),
                               report::exact_number(n.achieved_kg_per_ha), "kg/ha",
                               report::exact_number(n.deviation_percent), ""});
    }
    for (const auto& r : batch.rules) {
      csv += report::csv_line(
          {batch.batch, batch.treatment, "rule", r.rule, report::exact_number(r.limit), "",
           report::exact_number(r.value), std::string(to_string(r.unit)),
           report::exact_number(r.missed_percent), std::string(to_string(r.verdict))});
    }
  }
  return csv;
}

}  // namespace leastwise

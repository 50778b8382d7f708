#include <leastwise/trial_report.hpp>

#include <cmath>
#include <initializer_list>
#include <optional>

#include "report/numbers.hpp"
#include "report/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

std::string csv_cell(std::string_view cell) {
  if (cell.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(cell);
  std::string text = "\"";
  for (const char byte : cell) {
    if (byte == '"') text += '"';
    text += byte;
  }
  return text + '"';
}

void append_line(std::string& csv, std::initializer_list<std::string> cells) {
  bool first = true;
  for (const std::string& cell : cells) {
    if (!first) csv += ',';
    first = false;
    csv += csv_cell(cell);
  }
  csv += '\n';
}

std::string number(double value) {
  constexpr int digits = 12;
  return std::isfinite(value) ? plain_text(value, digits) : std::string{};
}

std::string kg(std::int64_t mg) { return number(static_cast<double>(mg) / 1e6); }

std::string batches_csv(const TrialPlan& plan) {
  std::string csv =
      "batch,treatment_code,treatment,material,role,target_g,weigh_g,balance,readability_g,"
      "weighings,actual_g,lot,initials\n";
  for (const auto& treatment : plan.treatments) {
    for (const auto& code : treatment.batch_codes) {
      for (const auto& w : treatment.weighings) {
        append_line(csv, {code, treatment.code, treatment.name, material_name(w),
                          std::string(to_string(w.role)), number(w.target_g),
                          exact_grams(w.mass_mg), w.balance, exact_grams(w.readability_mg),
                          std::to_string(w.parts_mg.size()), "", "", ""});
      }
    }
  }
  return csv;
}

std::string plots_csv(const TrialPlan& plan) {
  std::string csv =
      "plot_code,site_code,site,replicate,plot,treatment_code,treatment,area_m2,label,container,"
      "mass_g,balance\n";
  for (const auto& plot : plan.plots) {
    const Site& site = plan.sites[plot.site];
    const auto& treatment = plan.treatments[plot.treatment];
    const auto line = [&](const std::string& label, const std::string& mass) {
      append_line(csv, {plot.code, site.code, site.name, std::to_string(plot.replicate),
                        std::to_string(plot.number), treatment.code, treatment.name,
                        number(plot.area_m2), label, plot.container, mass, plot.balance});
    };
    for (const auto& pack : plot.packs) line(pack.label, exact_grams(pack.mass_mg));
    if (plot.packs.empty()) line("", "");
  }
  return csv;
}

std::string nutrients_csv(const TrialPlan& plan) {
  std::string csv =
      "treatment_code,treatment,nutrient,required_min_kg_per_ha,required_max_kg_per_ha,"
      "planned_kg_per_ha,achieved_kg_per_ha,deviation_percent,readability_percent\n";
  for (const auto& treatment : plan.treatments) {
    for (const auto& check : treatment.nutrients) {
      append_line(csv, {treatment.code, treatment.name, check.nutrient,
                        number(check.rate_kg_per_ha.min), number(check.rate_kg_per_ha.max),
                        number(check.planned_kg_per_ha), number(check.achieved_kg_per_ha),
                        number(check.deviation_percent), number(check.readability_percent)});
    }
  }
  return csv;
}

std::string purchases_csv(const TrialPlan& plan) {
  std::string csv = "material,need_kg,spare_kg,bag_kg,bags,buy_kg,left_over_kg,price_per_t,cost\n";
  for (const auto& p : plan.purchases) {
    append_line(csv, {p.material, kg(p.need_mg), kg(p.spare_mg), p.bag_kg ? number(*p.bag_kg) : "",
                      p.bag_kg ? std::to_string(p.bags) : "", number(p.bought_kg),
                      number(p.left_over_kg), number(p.price_per_t), number(p.cost)});
  }
  return csv;
}

}  // namespace
}  // namespace report

std::string to_csv(const TrialPlan& plan, PlanList list) {
  switch (list) {
    case PlanList::plots:
      return report::plots_csv(plan);
    case PlanList::nutrients:
      return report::nutrients_csv(plan);
    case PlanList::purchases:
      return report::purchases_csv(plan);
    case PlanList::batches:
      break;
  }
  return report::batches_csv(plan);
}

std::string to_csv(const WeighedCheck& check) {
  std::string csv = "batch,treatment,kind,name,limit,planned,actual,unit,off_percent,verdict\n";
  for (const auto& batch : check.batches) {
    for (const auto& m : batch.materials) {
      report::append_line(csv, {batch.batch, batch.treatment, "material", m.material, "",
                                report::exact_grams(m.planned_mg), report::number(m.weighed_g), "g",
                                report::number(m.deviation_percent), ""});
    }
    for (const auto& n : batch.nutrients) {
      report::append_line(
          csv, {batch.batch, batch.treatment, "nutrient", n.nutrient, "",
                report::number(n.planned_kg_per_ha), report::number(n.achieved_kg_per_ha), "kg/ha",
                report::number(n.deviation_percent), ""});
    }
    for (const auto& r : batch.rules) {
      report::append_line(
          csv, {batch.batch, batch.treatment, "rule", r.rule, report::number(r.limit), "",
                report::number(r.value), r.unit, report::number(r.missed_percent),
                std::string(to_string(r.verdict))});
    }
  }
  return csv;
}

}  // namespace leastwise

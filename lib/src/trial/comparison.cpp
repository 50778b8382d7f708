#include "trial/comparison.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include "base/text/wording.hpp"
#include "trial/applications.hpp"
#include "trial/asked.hpp"

namespace leastwise::trial {
namespace {

/// Rates further apart than this share of the larger one are different.
constexpr double different = 0.01;
/// A difference below this, kg/ha, is one of impurities, which no field shows.
constexpr double impurity = 0.1;
constexpr double micronutrient_impurity = 0.001;

/// Holds rates of one nutrient against one another.
class Differ {
 public:
  explicit Differ(std::string_view nutrient)
      : least_(is_micronutrient(nutrient) ? micronutrient_impurity : impurity) {}

  bool operator()(double a, double b) const {
    const double larger = std::max(std::abs(a), std::abs(b));
    return std::abs(a - b) > std::max(different * larger, least_);
  }

 private:
  double least_;
};

std::vector<std::string> names_in(const TrialPlan& plan) {
  std::vector<std::string> names;
  for (const auto& treatment : plan.treatments) {
    for (const auto& check : treatment.nutrients) {
      const bool known = std::ranges::any_of(
          names, [&](const std::string& name) { return same_nutrient(name, check.nutrient); });
      if (!known) names.push_back(check.nutrient);
    }
  }
  return names;
}

/// The rate that most of `rates` have; of equals the first.
double usual_of(const std::vector<double>& rates, const Differ& differ) {
  double usual = 0;
  std::ptrdiff_t most = 0;
  for (const double rate : rates) {
    const auto alike =
        std::ranges::count_if(rates, [&](double other) { return !differ(rate, other); });
    if (alike <= most) continue;
    most = alike;
    usual = rate;
  }
  return usual;
}

/// Over all applications of a treatment.
ComparedRate rate_in(const TreatmentTotal& total, const std::string& nutrient) {
  ComparedRate rate;
  rate.treatment = total.products.front();
  for (const auto& sum : total.nutrients) {
    if (!same_nutrient(sum.nutrient, nutrient)) continue;
    const double factor =
        sum.nutrient == nutrient ? 1.0 : conversion_factor(sum.nutrient, nutrient).value_or(1);
    rate.planned_kg_per_ha = sum.planned_kg_per_ha * factor;
    rate.achieved_kg_per_ha = sum.achieved_kg_per_ha * factor;
    break;
  }
  return rate;
}

/// Marks what differs within each group of treatments that ask the same.
void mark(const Trial& trial, const std::vector<std::size_t>& blends, ComparedNutrient& nutrient) {
  const auto rate_of = [&](std::size_t t) -> ComparedRate& {
    return *std::ranges::find(nutrient.rates, t, &ComparedRate::treatment);
  };
  const Differ differ(nutrient.nutrient);
  for (const auto& group : asking_alike(trial, blends, nutrient.nutrient)) {
    std::vector<double> rates;
    for (const std::size_t t : group) rates.push_back(rate_of(t).planned_kg_per_ha);
    const double usual = usual_of(rates, differ);
    for (const std::size_t t : group) {
      ComparedRate& rate = rate_of(t);
      if (!differ(rate.planned_kg_per_ha, usual)) continue;
      rate.differs_unasked = nutrient.differs_unasked = true;
    }
  }
}

bool is_held(const TrialPlan& plan, const std::string& nutrient) {
  return plan.hold && std::ranges::any_of(plan.hold->rates, [&](const HeldRate& held) {
           return !held.nutrient.empty() && same_nutrient(held.nutrient, nutrient);
         });
}

}  // namespace

std::vector<ComparedNutrient> compared(const Trial& trial, const TrialPlan& plan) {
  std::vector<std::size_t> blends;
  std::vector<ComparedNutrient> list;
  for (const auto& total : plan.totals) {
    const std::size_t t = total.products.front();
    const bool planned = plan.treatments[t].state == TreatmentState::planned;
    if (total.complete && planned && trial.treatments()[t].kind == TreatmentKind::blend)
      blends.push_back(t);
  }
  for (const auto& name : names_in(plan)) {
    ComparedNutrient nutrient;
    nutrient.nutrient = name;
    nutrient.held = is_held(plan, name);
    for (const auto& total : plan.totals)
      if (total.complete) nutrient.rates.push_back(rate_in(total, name));
    mark(trial, blends, nutrient);
    list.push_back(std::move(nutrient));
  }
  return list;
}

void note_differences(const std::vector<ComparedNutrient>& nutrients, TrialPlan& plan) {
  std::vector<std::string> subjects;
  std::string text;
  for (const auto& nutrient : nutrients) {
    if (!nutrient.differs_unasked) continue;
    subjects.push_back(nutrient.nutrient);
    text += (text.empty() ? "" : ", ") + nutrient.nutrient + " (";
    std::string codes;
    for (const auto& rate : nutrient.rates) {
      if (!rate.differs_unasked) continue;
      codes += (codes.empty() ? "" : " ") + plan.treatments[rate.treatment].treatment_code;
    }
    text += codes + ")";
  }
  if (subjects.empty()) return;
  std::string names;
  for (const auto& name : subjects) names += (names.empty() ? "" : ", ") + name;
  plan.notes.push_back({NoteLevel::warning, NoteCode::differs_unasked, subjects,
                        "treatments differ in what the file does not ask to differ: " + text +
                            "; what the field shows may be due to this. Give these a rate, or "
                            "write hold: [" +
                            names + "], which solves the treatments together at equal rates"});
}

}  // namespace leastwise::trial

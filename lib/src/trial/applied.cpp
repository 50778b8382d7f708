#include "trial/applied.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <map>

#include "trial/asked.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

using Batches = std::map<std::string, const BatchCheck*>;

/// kg/ha of `nutrient` that a batch brings at the rate of its treatment, and what is sprayed on
/// beside it.
struct Brought {
  double product = 0;
  double sprayed = 0;
};

Brought brought_by(const BatchCheck& batch, const std::string& nutrient) {
  for (const auto& check : batch.nutrients) {
    if (!same_nutrient(check.nutrient, nutrient)) continue;
    const double factor = conversion_factor(check.nutrient, nutrient).value_or(1);
    return {(check.achieved_kg_per_ha - check.sprayed_kg_per_ha) * factor,
            check.sprayed_kg_per_ha * factor};
  }
  return {};
}

double planned_in(const TreatmentPlan& plan, const std::string& nutrient) {
  for (const auto& check : plan.nutrients) {
    if (!same_nutrient(check.nutrient, nutrient)) continue;
    return check.planned_kg_per_ha * conversion_factor(check.nutrient, nutrient).value_or(1);
  }
  return 0;
}

/// Follows one plot back to its batches.
class PlotReader {
 public:
  PlotReader(const TrialPlan& plan, const WeighedCheck& check, const Batches& batches,
             std::size_t plot)
      : plan_(plan),
        check_(check),
        plot_(plan.plots[plot]),
        treatment_(plan.treatments[plot_.treatment]),
        batches_(batches) {
    applied_.plot = plot;
    applied_.code = plot_.code;
  }

  AppliedPlot read() {
    applied_.known = treatment_.state == TreatmentState::nothing ||
                     (treatment_.state == TreatmentState::planned && !plot_.packs.empty());
    for (const auto& pack : plot_.packs)
      for (const auto& source : pack.sources) take(source);
    for (const auto& spray : plot_.sprays) take(spray);
    for (const auto& nutrient : plan_.nutrients) add(nutrient.nutrient);
    return std::move(applied_);
  }

 private:
  void take(const PackSource& source) {
    const std::string& code = treatment_.batch_codes[source.load];
    mass_of_batch_[code] += static_cast<double>(source.mass_mg) / mg_per_kg;
    if (std::ranges::find(applied_.batches, code) != applied_.batches.end()) return;
    applied_.batches.push_back(code);
    const auto batch = batches_.find(code);
    if (batch == batches_.end()) {
      applied_.known = false;
      return;
    }
    for (const auto& material : batch->second->materials) {
      add_lot(material);
      for (const auto& step : check_.mixes)
        if (step.mix == material.material)
          for (const auto& part : step.materials) add_lot(part);
    }
  }

  /// The solution on this plot by the mean of the treatment, each per area.
  [[nodiscard]] double part_of_spray() const {
    double here = 0;
    double all = 0;
    for (const auto& spray : plot_.sprays) here += static_cast<double>(spray.mass_mg);
    for (const auto& spray : treatment_.sprays) all += static_cast<double>(spray.plots_mg);
    return all > 0 ? here / plot_.area_m2 / (all / treatment_.area_m2) : 0;
  }

  void take(const PlotSpray& spray) {
    const std::string& code = plan_.mixes[*treatment_.sprays[spray.spray].mix].code;
    for (const auto& step : check_.mixes)
      if (step.mix == code)
        for (const auto& part : step.materials) add_lot(part);
  }

  void add_lot(const WeighedMaterial& material) {
    if (material.lot.empty()) return;
    std::string lot = material.material + " " + material.lot;
    if (std::ranges::find(applied_.lots, lot) == applied_.lots.end())
      applied_.lots.push_back(std::move(lot));
  }

  void add(const std::string& nutrient) {
    AppliedNutrient applied;
    applied.nutrient = nutrient;
    applied.planned_kg_per_ha = planned_in(treatment_, nutrient);
    if (applied_.known) {
      double kg_per_ha = 0;
      double sprayed = 0;
      for (const auto& [code, kg] : mass_of_batch_) {
        const BatchCheck& batch = *batches_.find(code)->second;
        if (batch.product_kg_per_ha <= 0) continue;
        // Of the product of this batch, and then on this plot.
        const Brought brought = brought_by(batch, nutrient);
        kg_per_ha += brought.product / batch.product_kg_per_ha * kg /
                     (plot_.area_m2 * mg_per_kg_per_ha_m2 / mg_per_kg);
        sprayed = brought.sprayed;
      }
      kg_per_ha += sprayed * part_of_spray();
      applied.applied_kg_per_ha = kg_per_ha;
      if (applied.planned_kg_per_ha > 0)
        applied.deviation_percent = 100 * (kg_per_ha / applied.planned_kg_per_ha - 1);
    }
    applied_.nutrients.push_back(std::move(applied));
  }

  const TrialPlan& plan_;
  const WeighedCheck& check_;
  const Plot& plot_;
  const TreatmentPlan& treatment_;
  const Batches& batches_;
  std::map<std::string, double> mass_of_batch_{};
  AppliedPlot applied_{};
};

}  // namespace

std::vector<AppliedPlot> applied_plots(const TrialPlan& plan, const WeighedCheck& check) {
  Batches batches;
  for (const auto& batch : check.batches) batches.emplace(batch.batch, &batch);
  std::vector<AppliedPlot> plots;
  for (std::size_t p = 0; p < plan.plots.size(); ++p)
    plots.push_back(PlotReader(plan, check, batches, p).read());
  return plots;
}

}  // namespace leastwise::trial

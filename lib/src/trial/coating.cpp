#include "trial/coating.hpp"

#include "base/text/wording.hpp"
#include "chemistry/hazard/binder_nature.hpp"
#include "chemistry/materials/binders.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

/// Common practice: 350 to 400 g of binder per 1000 g of powder.
constexpr double least_binder_g_per_kg = 350;
constexpr double most_binder_g_per_kg = 400;

void find_density(const Trial& trial, Coating& coating) {
  const BinderKind* known = binder_called(coating.binder);
  if (trial.binder_density_kg_per_l()) {
    coating.binder_density_kg_per_l = *trial.binder_density_kg_per_l();
    coating.density_source = "as stated";
  } else if (known != nullptr) {
    coating.binder_density_kg_per_l = known->density_kg_per_l;
    coating.density_source = "table";
  } else {
    coating.binder_density_kg_per_l = assumed_binder_density_kg_per_l;
    coating.density_source = "assumed";
  }
}

void add_notes(const Coating& coating, TreatmentPlan& plan) {
  if (coating.percent > coating.max_percent * (1 + 1e-3)) {
    plan.notes.push_back({NoteLevel::warning,
                          NoteCode::coating_over_limit,
                          {},
                          "the coating is " + rounded_text(coating.percent) +
                              " % of the granules, above the limit of " +
                              rounded_text(coating.max_percent) +
                              " %: powder will fall off; use more granules or a richer powder"});
  }
  if (coating.binder_mg == 0) {
    plan.notes.push_back({NoteLevel::warning,
                          NoteCode::no_binder_weighed,
                          {},
                          "no binder can be weighed for the powders: they will not stick"});
  } else if (coating.binder_g_per_kg_powder < least_binder_g_per_kg * 0.99 ||
             coating.binder_g_per_kg_powder > most_binder_g_per_kg * 1.01) {
    plan.notes.push_back({NoteLevel::info,
                          NoteCode::binder_unusual,
                          {},
                          "the binder comes to " + rounded_text(coating.binder_g_per_kg_powder) +
                              " g per 1000 g of powder; 350 to 400 g is usual (common practice)"});
  }
}

}  // namespace

std::optional<Coating> coating_of(const Trial& trial, const Scenario& scenario,
                                  TreatmentPlan& plan) {
  Coating coating;
  std::int64_t granules = 0;
  for (const auto& weighing : plan.weighings) {
    if (weighing.role == Role::granule) granules += weighing.mass_mg;
    if (weighing.role == Role::powder) coating.powder_mg += weighing.mass_mg;
    if (weighing.role == Role::binder) coating.binder_mg += weighing.mass_mg;
  }
  if (coating.powder_mg == 0 || granules == 0) return std::nullopt;
  coating.binder = scenario.binder().material;
  find_density(trial, coating);
  coating.binder_ml =
      static_cast<double>(coating.binder_mg) / mg_per_g / coating.binder_density_kg_per_l;
  coating.binder_g_per_kg_powder =
      1000 * static_cast<double>(coating.binder_mg) / static_cast<double>(coating.powder_mg);
  coating.load_g_per_kg = 1000 * static_cast<double>(coating.powder_mg + coating.binder_mg) /
                          static_cast<double>(granules);
  coating.percent = coating.load_g_per_kg / 10;
  coating.max_percent = scenario.coating_max_percent();
  add_notes(coating, plan);
  return coating;
}

}  // namespace leastwise::trial

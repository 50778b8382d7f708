#include <leastwise/declare.hpp>
#include <leastwise/hazard.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/toxic_element.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "scenario/family_checks.hpp"
#include "scenario/supply_notes.hpp"
#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"
#include "solve/blend_indices.hpp"
#include "solve/label_confidence.hpp"

namespace leastwise::solve {
namespace {

/// Cost of the four kinds for one kg of a material.
struct KgCost {
  double material = 0;
  double freight = 0;
  double binder = 0;
  double blending = 0;
};

/// Where a blend takes `kg` of it, for all of them have one price.
KgCost kg_cost(const Scenario& scenario, std::size_t i, double kg) {
  const auto& material = scenario.materials()[i];
  const double binder_kg = scenario.mass_factor(i) - 1;
  return {scenario.price_paid_per_t(i, kg) / kg_per_tonne, material.freight_per_t / kg_per_tonne,
          binder_kg * scenario.binder().price_per_t / kg_per_tonne,
          scenario.mass_factor(i) * scenario.blending_fee_per_t() / kg_per_tonne};
}

}  // namespace

std::vector<Supply> supply_of(const Scenario& scenario, const std::vector<double>& kg,
                              double total) {
  std::vector<Supply> list;
  for (const auto& reported : scenario.reported()) {
    Supply supply;
    supply.nutrient = reported.nutrient;
    double amount = 0;
    double effective = 0;
    for (std::size_t i = 0; i < kg.size(); ++i) {
      amount += reported.content_percent[i] / 100 * kg[i];
      effective += reported.content_percent[i] / 100 * reported.availability[i] * kg[i];
    }
    supply.percent = total > 0 ? amount / total * 100 : 0;
    if (scenario.basis() == Basis::per_hectare && is_percentage(supply.nutrient)) {
      supply.kg_per_ha = amount;
      supply.effective_kg_per_ha = effective;
    }
    for (const auto& rate : scenario.rates())
      if (rate.nutrient == reported.nutrient) supply.rate_kg_per_ha = rate.limits;
    for (const auto& grade : scenario.grades())
      if (grade.nutrient == reported.nutrient) {
        supply.grade_percent = grade.limits;
        supply.declared_percent = grade.guarantee;
      }
    const bool asked = supply.rate_kg_per_ha != Limits{} || supply.grade_percent != Limits{};
    if (amount > 0 || asked) list.push_back(std::move(supply));
  }
  return list;
}

void add_oxidizer_caution(const Scenario& scenario, const std::vector<double>& kg,
                          std::vector<Note>& notes) {
  std::string names;
  std::vector<std::string> subjects;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    if (kg[i] <= 0 || !natures_of(scenario)[i].has(HazardClass::oxidizer)) continue;
    subjects.push_back(scenario.materials()[i].name);
    names += (names.empty() ? "" : ", ") + subjects.back();
  }
  if (!names.empty())
    notes.push_back({NoteLevel::caution, NoteCode::oxidizer, subjects,
                     "Oxidizer (" + names + "): no oil, wax or other organic matter on it, ever."});
}

void add_limited_cautions(const Scenario& scenario, const std::vector<double>& kg,
                          std::vector<Note>& notes) {
  const auto used = [&](const std::string& family) {
    for (std::size_t i = 0; i < kg.size(); ++i)
      if (kg[i] > 0 && scenario.materials()[i].family == family) return true;
    return false;
  };
  for (const auto& pair : scenario.limited_pairs())
    if (used(pair.family_a) && used(pair.family_b))
      notes.push_back({NoteLevel::caution,
                       NoteCode::limited_compatibility,
                       {pair.family_a, pair.family_b},
                       pair.family_a + " with " + pair.family_b + " is of limited compatibility: " +
                           pair.reason + (pair.reason.ends_with('.') ? " " : ". ") +
                           "Mix shortly before use and do not store.",
                       pair.source,
                       pair.family_a + " with " + pair.family_b + ": " + pair.reason});
}

/// What a plan must mind of each toxic element that a material of the blend carries, unless the
/// scenario said so already.
void add_toxic_cautions(const Scenario& scenario, const std::vector<double>& kg,
                        std::vector<Note>& notes) {
  const auto is_said = [&](const std::string& symbol) {
    return std::ranges::any_of(scenario.notes(), [&](const Note& note) {
      return note.code == NoteCode::toxic_element && note.subjects.front() == symbol;
    });
  };
  std::set<std::string> carried;
  const auto natures = natures_of(scenario);
  for (std::size_t i = 0; i < kg.size(); ++i)
    if (kg[i] > 0)
      for (const auto& hazard : natures[i].hazards)
        if (hazard.kind == HazardClass::toxic_element) carried.insert(hazard.detail);
  for (const auto& element : toxic_elements())
    if (carried.contains(element.symbol) && !is_said(element.symbol))
      notes.push_back({NoteLevel::caution,
                       NoteCode::toxic_element,
                       {element.symbol},
                       element.caution,
                       element.source});
}

std::vector<Note> cautions_of(const Scenario& scenario, const std::vector<double>& kg) {
  std::vector<Note> notes;
  add_oxidizer_caution(scenario, kg, notes);
  add_limited_cautions(scenario, kg, notes);
  std::vector<const Material*> used;
  for (std::size_t i = 0; i < kg.size(); ++i)
    if (kg[i] > 0) used.push_back(&scenario.materials()[i]);
  add_toxic_cautions(scenario, kg, notes);
  add_silent_cautions(scenario, used, notes);
  return notes;
}

std::vector<Portion> portions_of(const Scenario& scenario, const std::vector<double>& kg) {
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) total += scenario.mass_factor(i) * kg[i];
  std::vector<Portion> portions;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    if (kg[i] <= 0) continue;
    const auto& material = scenario.materials()[i];
    const auto cost = kg_cost(scenario, i, kg[i]);
    Portion portion;
    portion.material = material.name;
    portion.form = material.form_used();
    portion.kg_per_t = kg[i] / total * kg_per_tonne;
    portion.cost_per_t = portion.kg_per_t * (cost.material + cost.freight);
    if (scenario.basis() == Basis::per_hectare) {
      portion.kg_per_ha = kg[i];
      portion.cost_per_ha = kg[i] * (cost.material + cost.freight);
    }
    portions.push_back(std::move(portion));
  }
  std::stable_sort(portions.begin(), portions.end(),
                   [](const Portion& a, const Portion& b) { return a.kg_per_t > b.kg_per_t; });
  return portions;
}

std::vector<Note> notes_of(const Scenario& scenario, const std::vector<double>& kg, double total,
                           LabelNotes labels) {
  std::vector<Note> notes(scenario.notes().begin(), scenario.notes().end());
  const auto cautions = cautions_of(scenario, kg);
  notes.insert(notes.end(), cautions.begin(), cautions.end());
  const auto add = [&](const std::vector<Note>& more) {
    notes.insert(notes.end(), more.begin(), more.end());
  };
  add(scenario.basis() == Basis::per_hectare ? notes_on_rates(scenario, kg)
                                             : notes_on_spreading(scenario, kg, total));
  if (labels == LabelNotes::told) add(notes_on_surplus(scenario, kg, total));
  if (labels == LabelNotes::told) add_confidence_notes(scenario, kg, total, notes);
  return notes;
}

Blend blend_of(const Scenario& scenario, const std::vector<double>& kg, LabelNotes labels) {
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) total += scenario.mass_factor(i) * kg[i];
  const double to_tonne = total > 0 ? kg_per_tonne / total : 0;
  Blend blend;
  blend.title = scenario.title();
  blend.currency = scenario.currency();
  blend.units = scenario.draft().units;
  blend.basis = scenario.basis();
  blend.portions = portions_of(scenario, kg);
  blend.supply = supply_of(scenario, kg, total);
  blend.purchases = purchases_of(scenario, kg);
  double binder_kg = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    const auto cost = kg_cost(scenario, i, kg[i]);
    blend.breakdown.materials_per_t += kg[i] * cost.material * to_tonne;
    blend.breakdown.freight_per_t += kg[i] * cost.freight * to_tonne;
    blend.breakdown.binder_per_t += kg[i] * cost.binder * to_tonne;
    blend.breakdown.blending_per_t += kg[i] * cost.blending * to_tonne;
    binder_kg += kg[i] * (scenario.mass_factor(i) - 1);
  }
  const auto& parts = blend.breakdown;
  blend.cost_per_t =
      parts.materials_per_t + parts.freight_per_t + parts.binder_per_t + parts.blending_per_t;
  blend.binder.material = scenario.binder().material;
  blend.binder.kg_per_t = binder_kg * to_tonne;
  blend.binder.cost_per_t = parts.binder_per_t;
  if (blend.basis == Basis::per_hectare) {
    blend.total_kg_per_ha = total;
    blend.cost_per_ha = blend.cost_per_t * total / kg_per_tonne;
    blend.binder.kg_per_ha = binder_kg;
  }
  blend.notes = notes_of(scenario, kg, total, labels);
  if (asks_for_indices(scenario))
    blend.indices = blend_indices(scenario, blend.portions, blend.total_kg_per_ha);
  if (scenario.draft().declare) blend.declared = declared_analysis(scenario, blend.portions);
  return blend;
}

namespace {

/// Where the search for the blend ends: the many searches for intervals and entry prices, each of a
/// model changed a little, go on from there.
std::vector<solver::Leaf> leaves_of(const Task& task) {
  if (!task.options.intervals || !task.model.either_or()) return {};
  auto recording = task.search;
  recording.record_leaves = true;
  auto found = solver::search(task.model, recording);
  if (found.status != solver::SearchStatus::optimal) return {};
  return std::move(found.leaves);
}

/// Whether everything was found that can be said of a blend beside itself.
bool is_complete(const Blend& blend) {
  const auto whole = [](const BindingRule& rule) {
    if (rule.id.kind == RuleKind::bins) return rule.price_above.is_computed();
    return rule.unique && rule.holds_from.is_computed() && rule.holds_to.is_computed();
  };
  return blend.binding_complete && blend.exclusions_complete &&
         std::ranges::all_of(blend.binding, whole) &&
         std::ranges::all_of(blend.unused, [](const UnusedMaterial& unused) {
           return unused.enters_below_price_per_t.is_computed();
         });
}

/// Why something is missing in an answer for which everything was asked.
std::string unfinished_words(const Task& task) {
  if (!out_of_time(task))
    return "Rounding errors kept an interval or an entry price from being proved, so it is not "
           "given; the blend itself is proved.";
  return std::string(task.options.stop.stop_requested() ? "Stopped on request"
                                                        : "The time limit was reached") +
         " before every interval and entry price was found; the blend itself is proved.";
}

}  // namespace

Formulation blend_answer(const Task& task, const solver::SearchResult& solution) {
  Blend blend = blend_of(task.scenario, kg_of(task.scenario, task.model, solution.x));
  if (!cost_is_confirmed(task.scenario, blend, solution.cost)) {
    solver::SearchResult unconfirmed;
    unconfirmed.status = solver::SearchStatus::failed;
    return stopped_answer(task, unconfirmed);
  }
  if (blend.basis == Basis::per_hectare) blend.cost_per_ha = solution.cost;
  const auto leaves = leaves_of(task);
  auto search = task.search;
  search.leaves = leaves;
  const Task onward{task.scenario, task.model, task.options, search};
  add_binding_rules(onward, solution, blend);
  blend.unused = unused_materials(onward, solution);
  add_exclusion_costs(onward, solution, blend);
  add_cost_parts(onward, solution, blend);
  add_nutrient_costs(task.scenario, blend);
  add_why(onward, solution, blend);
  if (task.options.intervals && !is_complete(blend))
    blend.notes.push_back({NoteLevel::info, NoteCode::not_finished, {}, unfinished_words(task)});
  blend.certificate = {
      solution.primal_violation, solution.dual_violation,
      (solution.cost - solution.lower_bound) / std::max(1.0, std::fabs(solution.cost)),
      solution.nodes};
  return blend;
}

}  // namespace leastwise::solve

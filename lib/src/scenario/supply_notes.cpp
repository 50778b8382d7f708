#include "scenario/supply_notes.hpp"

#include <leastwise/micronutrient.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "base/text/wording.hpp"
#include "scenario/rules.hpp"

namespace leastwise {
namespace {

constexpr double surplus_times = 2;         ///< a supply beyond so many times its minimum is told
constexpr double last_digits = 1e-6;        ///< relative; far below what a spreader can do
constexpr double ordinary_kg_per_ha = 100;  ///< the least a spreader puts on as a rule

/// Three significant digits: more than any spreader keeps.
std::string short_text(double value) {
  if (value == 0 || !std::isfinite(value)) return number_text(value);
  const double scale = std::pow(10.0, 2 - std::floor(std::log10(std::fabs(value))));
  return rounded_text(std::round(value * scale) / scale);
}

/// A rate that is metric, in the units of the scenario, without its unit.
std::string bare_rate(double kg_per_ha, Units units) {
  return short_text(from_metric(kg_per_ha, Measure::rate, units));
}

std::string rate_text(double kg_per_ha, Units units) {
  return bare_rate(kg_per_ha, units) + " " + std::string(unit_name(Measure::rate, units));
}

std::string range_text(const UsualRate& rate, Units units) {
  return bare_rate(rate.from, units) + " to " + rate_text(rate.to, units);
}

/// `2.5 kg Zn/ha`.
std::string rate_of_text(double kg_per_ha, const std::string& element, Units units) {
  return bare_rate(kg_per_ha, units) + " " + std::string(unit_name(Measure::mass, units)) + " " +
         element + std::string(unit_name(Measure::price_of_land, units));
}

std::string placement_text(Placement placement) {
  return placement == Placement::coated ? "as a coating" : "in granules";
}

/// The share of an amount of `element` that comes with powders decides how it counts.
Placement placement_of(const Scenario& scenario, const std::vector<double>& kg,
                       std::string_view element, double amount) {
  double coated = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    const Material& material = scenario.materials()[i];
    if (kg[i] > 0 && material.form_used() == Form::powder)
      coated += content_percent(material, element) / 100 * kg[i];
  }
  return coated > amount / 2 ? Placement::coated : Placement::granular;
}

/// The materials in use that carry `element`; all that hold it when none is a carrier.
std::vector<std::string> carriers_in_use(const Scenario& scenario, const std::vector<double>& kg,
                                         std::string_view element, bool any) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    const Material& material = scenario.materials()[i];
    if (kg[i] <= 0 || content_percent(material, element) <= 0) continue;
    const auto carried = carried_micronutrients(material);
    if (any || std::ranges::find(carried, element) != carried.end()) names.push_back(material.name);
  }
  return names;
}

Note high_rate(const Micronutrient& micronutrient, double amount, Placement placement,
               std::vector<std::string> subjects, Units units) {
  const UsualRate& usual = micronutrient.usual(placement);
  std::string text = micronutrient.element + " " + rate_text(amount, units) +
                     " is above the usual " + range_text(usual, units) + " " +
                     placement_text(placement);
  if (amount > micronutrient.soil.to * (1 + last_digits))
    text += ", and above " + rate_text(micronutrient.soil.to, units) +
            ", the largest usual dressing of the soil";
  text += ": make sure that it is meant";
  return {NoteLevel::warning, NoteCode::rate_above_usual, std::move(subjects), std::move(text)};
}

Note low_rate(const Micronutrient& micronutrient, double amount, Placement placement,
              std::vector<std::string> subjects, Units units) {
  std::string text = micronutrient.element + " " + rate_text(amount, units) +
                     " is below the usual " + range_text(micronutrient.usual(placement), units) +
                     " " + placement_text(placement) + ": it may show no effect";
  if (placement == Placement::granular && micronutrient.granular_factor > 1)
    text += "; granules need 2 to 4 times the coated rate (common practice)";
  return {NoteLevel::info, NoteCode::rate_below_usual, std::move(subjects), std::move(text)};
}

/// Powders and their binder take all the room that the granules give.
bool coating_is_full(const Scenario& scenario, const std::vector<double>& kg) {
  const auto measured = rules::measure(scenario, {kg});
  return std::ranges::any_of(measured, [](const rules::Achieved& achieved) {
    return achieved.rule.id.kind == RuleKind::coating && achieved.of > 0 &&
           achieved.of >= achieved.needed() * (1 - last_digits);
  });
}

}  // namespace

bool confirms_high_rate(const ScenarioDraft& draft, std::string_view element) {
  return std::ranges::find(draft.confirm_high_rate, element) != draft.confirm_high_rate.end();
}

std::string high_rate_text(const Micronutrient& micronutrient, double kg_per_ha, Units units) {
  const bool us = units == Units::us;
  return bare_rate(kg_per_ha, units) + (us ? " lb of " : " kg of ") + micronutrient.name +
         (us ? " per acre" : " per hectare") + " is far above what is usual, " +
         range_text(micronutrient.granular, units) + " in granules and " +
         rate_text(micronutrient.soil.to, units) +
         " in the largest dressings; the most without a confirmation is " +
         rate_text(micronutrient.ceiling_kg_per_ha, units) +
         "; if it is meant, add confirm_high_rate: [" + micronutrient.element + "] under blend";
}

double amount_of(const Scenario& scenario, const std::vector<double>& kg,
                 std::string_view element) {
  double amount = 0;
  for (std::size_t i = 0; i < kg.size(); ++i)
    if (kg[i] > 0) amount += content_percent(scenario.materials()[i], element) / 100 * kg[i];
  return amount;
}

std::vector<Note> notes_on_rates(const Scenario& scenario, const std::vector<double>& kg_per_ha) {
  std::vector<Note> notes;
  for (const auto& micronutrient : micronutrients()) {
    const double amount = amount_of(scenario, kg_per_ha, micronutrient.element);
    if (amount <= 0) continue;
    const auto carriers = carriers_in_use(scenario, kg_per_ha, micronutrient.element, false);
    const Placement placement = placement_of(scenario, kg_per_ha, micronutrient.element, amount);
    const UsualRate& usual = micronutrient.usual(placement);
    const auto subjects = [&](std::vector<std::string> names) {
      names.insert(names.begin(), micronutrient.element);
      return names;
    };
    if (amount > usual.to * (1 + last_digits))
      notes.push_back(
          high_rate(micronutrient, amount, placement,
                    subjects(carriers_in_use(scenario, kg_per_ha, micronutrient.element, true)),
                    scenario.draft().units));
    else if (amount < usual.from * (1 - last_digits) && !carriers.empty())
      notes.push_back(
          low_rate(micronutrient, amount, placement, subjects(carriers), scenario.draft().units));
  }
  return notes;
}

std::vector<Note> notes_on_spreading(const Scenario& scenario, const std::vector<double>& kg,
                                     double total) {
  std::vector<Note> notes;
  const Units units = scenario.draft().units;
  if (total <= 0) return notes;
  for (const auto& micronutrient : micronutrients()) {
    const double amount = amount_of(scenario, kg, micronutrient.element);
    auto subjects = carriers_in_use(scenario, kg, micronutrient.element, false);
    if (amount <= 0 || subjects.empty()) continue;
    const Placement placement = placement_of(scenario, kg, micronutrient.element, amount);
    const UsualRate& usual = micronutrient.usual(placement);
    const double at_usual = usual.to * total / amount;  // kg of product per hectare
    const double at_highest = micronutrient.soil.to * total / amount;
    subjects.insert(subjects.begin(), micronutrient.element);
    notes.push_back({at_highest < ordinary_kg_per_ha ? NoteLevel::warning : NoteLevel::caution,
                     NoteCode::spread_at_most, std::move(subjects),
                     "the product holds " + short_text(amount / total * 100) + " % " +
                         micronutrient.element + ": " + rate_text(at_usual, units) +
                         " of it brings " + rate_of_text(usual.to, micronutrient.element, units) +
                         ", the most that is usual " + placement_text(placement) +
                         "; never spread more than " + rate_text(at_highest, units) +
                         " in a season (" +
                         rate_of_text(micronutrient.soil.to, micronutrient.element, units) + ")"});
  }
  return notes;
}

std::vector<Note> notes_on_surplus(const Scenario& scenario, const std::vector<double>& kg,
                                   double total) {
  std::vector<Note> notes;
  std::optional<bool> full;  // asked only where there is something to tell
  const Units units = scenario.draft().units;
  const auto tell = [&](const Target& target, double supplied, bool is_rate) {
    const double asked = target.limits.min;
    if (!(asked > 0) || supplied <= surplus_times * asked * (1 + last_digits)) return;
    if (!full) full = coating_is_full(scenario, kg);
    std::string text = target.nutrient + ": " +
                       (is_rate ? rate_text(supplied, units) : short_text(supplied) + " %") +
                       " is " + short_text(supplied / asked) + " times the " +
                       (is_rate ? bare_rate(asked, units) : short_text(asked)) +
                       " asked for at least";
    if (*full)
      text += "; the coating limit of " + short_text(scenario.coating_max_percent()) +
              " % binds: more granules are in the blend than the rates need, to carry the powders";
    notes.push_back({*full ? NoteLevel::warning : NoteLevel::info,
                     NoteCode::supply_over_asked,
                     {target.nutrient},
                     std::move(text)});
  };
  const auto sum = [&](const Target& target, bool is_rate) {
    double amount = 0;
    for (std::size_t i = 0; i < kg.size(); ++i)
      amount += target.content_percent[i] / 100 * kg[i] * (is_rate ? target.availability[i] : 1);
    return amount;
  };
  for (const auto& rate : scenario.rates()) tell(rate, sum(rate, true), true);
  for (const auto& grade : scenario.grades())
    if (total > 0) tell(grade, sum(grade, false) / total * 100, false);
  return notes;
}

}  // namespace leastwise

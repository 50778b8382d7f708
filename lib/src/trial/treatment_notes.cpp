#include "trial/treatment_notes.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text/wording.hpp"
#include "scenario/supply_notes.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"

namespace leastwise::trial {
namespace {

/// Beyond this, in percent of a share, chance is worth a warning.
constexpr double much_by_chance = 5;
/// Below this a binder is counted in drops, of about 0.03 g (20 drops of oil are 1 ml: common
/// practice).
constexpr std::int64_t by_drop_mg = 1000;
constexpr double drop_mg = 30;

/// Whether a note of that code among `notes` speaks of everything that `note` speaks of.
bool is_said(const Note& note, const std::vector<Note>& notes) {
  return std::ranges::any_of(notes, [&](const Note& other) {
    return other.code == note.code && std::ranges::all_of(note.subjects, [&](const auto& name) {
             return std::ranges::find(other.subjects, name) != other.subjects.end();
           });
  });
}

void note_bucket(TreatmentPlan& plan) {
  const double load_kg = static_cast<double>(plan.load_mg) / mg_per_kg;
  if (plan.mixer_kind != MixerKind::bucket || load_kg < bucket_limit_kg) return;
  plan.notes.push_back({NoteLevel::caution,
                        NoteCode::bucket_load,
                        {},
                        "a load of " + rounded_text(load_kg) +
                            " kg tires arms and mixes badly in a bucket: from about 10 kg on a "
                            "drum mixer is used (common practice)"});
}

void note_density(const Trial& trial, const TreatmentDraftPlan& draft, TreatmentPlan& plan) {
  std::vector<std::string> unknown;
  for (std::size_t i = 0; i < draft.product.kg_per_ha.size(); ++i) {
    const Material& material = draft.treatment->scenario->materials()[i];
    if (draft.product.kg_per_ha[i] > 0 && !material.bulk_density_kg_per_m3)
      unknown.push_back(material.name);
  }
  const bool by_volume = std::ranges::any_of(
      trial.mixers(), [](const Mixer& m) { return m.capacity_litres.has_value(); });
  if (!by_volume || unknown.empty()) return;
  plan.notes.push_back({NoteLevel::info, NoteCode::density_assumed, unknown,
                        "no bulk density is stated for " + listed(unknown) +
                            ": 800 kg per cubic metre is assumed "
                            "(common practice: 700 to 1400)"});
}

void note_mixes(const TreatmentDraftPlan& draft, const std::vector<StockMix>& mixes,
                TreatmentPlan& plan) {
  for (const auto& use : draft.uses) {
    const StockMix& mix = mixes[use.mix];
    std::vector<std::string> powders;
    for (const auto& part : mix.parts)
      if (!part.carrier) powders.push_back(part.material);
    std::string text = "make " + mix.code +
                       " first, by its own sheet: a load holds too little of " + listed(powders) +
                       " for these balances";
    if (mix.carrier_in_load) text += "; the load weighs so much less of " + in_quotes(mix.carrier);
    plan.notes.push_back({NoteLevel::info, NoteCode::stock_mix_first, {mix.code}, text});
  }
}

void note_sprays(const std::vector<StockMix>& mixes, TreatmentPlan& plan) {
  for (const auto& spray : plan.sprays) {
    plan.notes.push_back(
        {NoteLevel::caution,
         NoteCode::sprayed_on,
         {spray.material},
         "no load can be weighed and mixed that holds " + in_quotes(spray.material) +
             " and keeps the rules: it is no part of the product; dissolve it by the sheet of " +
             mixes[*spray.mix].code + " and spray it on each plot"});
  }
}

void note_drops(TreatmentPlan& plan) {
  for (const auto& weighing : plan.weighings) {
    if (weighing.role != Role::binder || weighing.mass_mg >= by_drop_mg) continue;
    const double drops = static_cast<double>(weighing.mass_mg) / drop_mg;
    plan.notes.push_back({NoteLevel::info,
                          NoteCode::binder_by_drop,
                          {weighing.material},
                          "so little binder is weighed by drops: about " +
                              rounded_text(std::max(1.0, std::round(drops))) +
                              " of them from a dropper, on the balance (20 drops of oil are about "
                              "1 ml: common practice)"});
  }
}

void note_chance(TreatmentPlan& plan) {
  std::vector<std::string> names;
  double worst = 0;
  double granules = 0;
  for (const auto& variation : plan.variation) {
    granules += variation.granules;
    if (variation.deviation_percent <= much_by_chance) continue;
    names.push_back(variation.material);
    worst = std::max(worst, variation.deviation_percent);
  }
  if (names.empty()) return;
  plan.notes.push_back(
      {NoteLevel::warning, NoteCode::few_granules, names,
       "the smallest plot gets about " + rounded_text(std::round(granules)) +
           " granules: however well the load is mixed, chance alone moves the share of " +
           listed(names) + " from plot to plot by up to " + rounded_text(std::round(worst)) +
           " % (one standard deviation); weigh each material for each plot by itself, or apply it "
           "dissolved"});
}

}  // namespace

void note_rates(const Treatment& treatment, const Product& product, TreatmentPlan& plan) {
  const Scenario& scenario = *treatment.scenario;
  if (treatment.kind == TreatmentKind::blend && scenario.basis() == Basis::per_hectare) return;
  std::erase_if(plan.notes, [](const Note& note) { return note.code == NoteCode::spread_at_most; });
  const auto notes = notes_on_rates(scenario, product.kg_per_ha);
  plan.notes.insert(plan.notes.end(), notes.begin(), notes.end());
}

void add_load_notes(const Trial& trial, const TreatmentDraftPlan& draft,
                    const std::vector<StockMix>& mixes, TreatmentPlan& plan) {
  note_bucket(plan);
  note_density(trial, draft, plan);
  note_mixes(draft, mixes, plan);
  note_sprays(mixes, plan);
  note_drops(plan);
  note_chance(plan);
}

void drop_what_the_sheet_says(TreatmentPlan& plan) {
  std::erase_if(plan.notes, [&](const Note& note) {
    if (note.code == NoteCode::limited_compatibility ||
        note.code == NoteCode::no_compatibility_rule)
      return true;
    return note.code == NoteCode::rule_lifted && is_said(note, plan.stop_conditions);
  });
}

namespace {

/// Why a product could not be made is said with each of them.
bool is_made(const TreatmentPlan& plan) {
  return plan.state == TreatmentState::planned || plan.state == TreatmentState::nothing;
}

}  // namespace

void lift_shared_notes(TrialPlan& plan) {
  std::vector<std::pair<Note, int>> counted;
  for (const auto& treatment : plan.treatments) {
    if (!is_made(treatment)) continue;
    for (const auto& note : treatment.notes) {
      const auto known =
          std::ranges::find_if(counted, [&](const auto& entry) { return entry.first == note; });
      if (known != counted.end()) {
        ++known->second;
      } else {
        counted.emplace_back(note, 1);
      }
    }
  }
  for (const auto& [note, times] : counted) {
    if (times < 2) continue;
    plan.notes.push_back(note);
    for (auto& treatment : plan.treatments)
      if (is_made(treatment)) std::erase(treatment.notes, note);
  }
}

/// What is sprayed on some plots brings water that the others do not get.
void note_water(TrialPlan& plan) {
  std::vector<std::string> codes;
  double most = 0;
  for (const auto& treatment : plan.treatments) {
    if (treatment.sprays.empty()) continue;
    codes.push_back(treatment.code);
    double rate = 0;
    for (const auto& spray : treatment.sprays) rate += spray.solution_kg_per_ha;
    most = std::max(most, rate);
  }
  if (codes.empty()) return;
  plan.notes.push_back(
      {NoteLevel::warning, NoteCode::sprayed_on, codes,
       "plots of " + listed(codes) + " are sprayed with up to " + rounded_text(most) +
           " l/ha: give all other plots as much water, controls too, so that water is no "
           "difference between treatments; spray bare soil, before the crop stands"});
}

void add_trial_notes(const Trial& trial, TrialPlan& plan) {
  lift_shared_notes(plan);
  note_water(plan);
  if (!trial.seed()) {
    plan.notes.push_back({NoteLevel::info,
                          NoteCode::no_seed,
                          {},
                          "no seed is given, so plots stand in the order of the treatments; "
                          "give a seed for a randomised layout"});
  }
  if (trial.spare_percent() == 0) {
    plan.notes.push_back({NoteLevel::caution,
                          NoteCode::no_spare,
                          {},
                          "no spare is planned: dust and what clings to the mixer will be "
                          "missing from the last plot"});
  }
}

}  // namespace leastwise::trial

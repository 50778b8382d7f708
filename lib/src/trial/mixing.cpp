#include "trial/mixing.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "trial/achieved.hpp"
#include "trial/loads_and_packs.hpp"
#include "trial/mass.hpp"
#include "trial/rounding_repair.hpp"

namespace leastwise::trial {
namespace {

bool is_planned(const TreatmentPlan& plan) { return plan.state == TreatmentState::planned; }

void plan_product(const Trial& trial, TreatmentDraftPlan& draft, TrialPlan& all,
                  TreatmentPlan& plan) {
  draft.product = with_carriers(*draft.treatment->scenario, draft.solid, draft.uses, all.mixes);
  plan.product_kg_per_ha = draft.product.total_kg_per_ha();
  plan_packs(trial, all.plots, draft, plan);
  if (plan_loads(trial, all.plots, all.mixes, draft, plan)) return;
  give_up(plan);
  plan.notes.push_back({NoteLevel::warning,
                        NoteCode::load_over_capacity,
                        {plan.mixer},
                        "the mixer " + plan.mixer +
                            " is far too small: it would take more than 1000 loads, or not even "
                            "the sample fits; name a larger mixer"});
}

NeedyTreatment needy_of(std::size_t t, const TreatmentDraftPlan& draft, const TreatmentPlan& plan) {
  NeedyTreatment needy;
  needy.treatment = t;
  needy.scenario = &*draft.treatment->scenario;
  needy.product = &draft.solid;
  needy.loads = static_cast<std::int64_t>(plan.batch_codes.size());
  needy.load_mg_per_kg_per_ha = static_cast<double>(plan.load_mg) / draft.product.total_kg_per_ha();
  return needy;
}

bool needs_a_mix(const Trial& trial, const NeedyTreatment& needy) {
  for (std::size_t i = 0; i < needy.product->kg_per_ha.size(); ++i) {
    const double mg = needy.product->kg_per_ha[i] * needy.load_mg_per_kg_per_ha;
    if (mg <= 0 || role_of(needy.scenario->materials()[i]) != Role::powder) continue;
    if (is_too_little(trial, mg)) return true;
  }
  return false;
}

/// Whether every load finds enough of its mixes, and weighs no less than 50 digits of any.
bool agrees(const Trial& trial, const std::vector<NeedyTreatment>& needy, const TrialPlan& plan) {
  std::vector<double> taken(plan.mixes.size(), 0);
  for (const auto& one : needy) {
    const TreatmentPlan& treatment = plan.treatments[one.treatment];
    for (const auto& weighing : treatment.weighings) {
      if (!weighing.mix) continue;
      if (is_too_little(trial, weighing.target_g * mg_per_g * 1.001)) return false;
      taken[*weighing.mix] +=
          static_cast<double>(weighing.mass_mg) * static_cast<double>(treatment.batch_codes.size());
    }
  }
  for (std::size_t m = 0; m < taken.size(); ++m)
    if (taken[m] > static_cast<double>(plan.mixes[m].mass_mg)) return false;
  return true;
}

/// Whether the load as it stands keeps every rule to within 1 %.
bool keeps_rules(const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                 const std::vector<StockMix>& mixes) {
  return worst(rules_of_load(draft, plan, mixes)) != Verdict::broken;
}

/// A mix is made for the first application that takes from it; what is left serves the later ones.
void date_mixes(const Trial& trial, const std::vector<NeedyTreatment>& needy, MixPlan& mixes) {
  std::vector<char> dated(mixes.mixes.size(), 0);
  for (std::size_t n = 0; n < needy.size(); ++n) {
    const std::size_t application = trial.treatments()[needy[n].treatment].application;
    for (const auto& use : mixes.uses[n]) {
      std::size_t& first = mixes.mixes[use.mix].application;
      first = dated[use.mix] ? std::min(first, application) : application;
      dated[use.mix] = 1;
    }
  }
}

/// Plans mixes and loads in turn until both agree. `without` are treatments that take no mix.
void settle_loads(const Trial& trial, const std::vector<char>& without,
                  std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan) {
  constexpr int most_rounds = 6;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<NeedyTreatment> needy;
    for (std::size_t t = 0; t < drafts.size(); ++t) {
      if (!is_planned(plan.treatments[t]) || without[t]) continue;
      const auto one = needy_of(t, drafts[t], plan.treatments[t]);
      if (!drafts[t].uses.empty() || needs_a_mix(trial, one)) needy.push_back(one);
    }
    if (needy.empty() || (round > 0 && agrees(trial, needy, plan))) return;
    auto mixes = plan_mixes(trial, needy);
    date_mixes(trial, needy, mixes);
    plan.mixes = std::move(mixes.mixes);
    for (std::size_t n = 0; n < needy.size(); ++n)
      drafts[needy[n].treatment].uses = std::move(mixes.uses[n]);
    for (const auto& one : needy)
      plan_product(trial, drafts[one.treatment], plan, plan.treatments[one.treatment]);
  }
}

void take(StockMix& mix, std::int64_t mg) {
  mix.taken_mg += mg;
  const auto parts = parts_of_mix(mix, mg);
  for (std::size_t p = 0; p < parts.size(); ++p) mix.parts[p].used_mg += parts[p];
}

}  // namespace

void give_up(TreatmentPlan& plan) {
  plan.state = TreatmentState::unweighable;
  plan.batch_codes.clear();
  plan.weighings.clear();
  plan.coating.reset();
  plan.sprays.clear();
  plan.packs_mg = plan.spare_mg = plan.total_mg = plan.load_mg = 0;
}

void plan_mixes_and_loads(const Trial& trial, std::vector<TreatmentDraftPlan>& drafts,
                          TrialPlan& plan) {
  plan.mixes.clear();
  std::vector<char> kept(drafts.size(), 0);  // without any mix
  for (std::size_t t = 0; t < drafts.size(); ++t) {
    drafts[t].uses.clear();
    for (auto& spray : plan.treatments[t].sprays) spray.mix.reset();
    if (!drafts[t].asked || !is_planned(plan.treatments[t])) continue;
    plan_product(trial, drafts[t], plan, plan.treatments[t]);
    kept[t] = is_planned(plan.treatments[t]) && keeps_rules(drafts[t], plan.treatments[t], {});
  }
  std::vector<char> without(drafts.size(), 0);
  settle_loads(trial, without, drafts, plan);
  bool again = false;
  for (std::size_t t = 0; t < drafts.size(); ++t) {
    if (drafts[t].uses.empty() || !is_planned(plan.treatments[t])) continue;
    if (!kept[t] || keeps_rules(drafts[t], plan.treatments[t], plan.mixes)) continue;
    without[t] = 1;
    again = true;
    drafts[t].uses.clear();
    plan_product(trial, drafts[t], plan, plan.treatments[t]);
  }
  if (again) settle_loads(trial, without, drafts, plan);
}

void settle_mixes(std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan) {
  std::vector<std::size_t> place(plan.mixes.size());
  for (std::size_t t = 0; t < drafts.size(); ++t) {
    const TreatmentPlan& treatment = plan.treatments[t];
    for (const auto& weighing : treatment.weighings) {
      if (!weighing.mix) continue;
      StockMix& mix = plan.mixes[*weighing.mix];
      const auto taken = weighing.mass_mg * static_cast<std::int64_t>(treatment.batch_codes.size());
      take(mix, taken);
      mix.batch_codes.insert(mix.batch_codes.end(), treatment.batch_codes.begin(),
                             treatment.batch_codes.end());
    }
    for (const auto& spray : treatment.sprays) take(plan.mixes[*spray.mix], spray.plots_mg);
  }
  std::vector<StockMix> kept;
  for (std::size_t m = 0; m < plan.mixes.size(); ++m) {
    place[m] = kept.size();
    if (plan.mixes[m].taken_mg > 0) kept.push_back(std::move(plan.mixes[m]));
  }
  for (auto& treatment : plan.treatments) {
    for (auto& weighing : treatment.weighings)
      if (weighing.mix) weighing.mix = place[*weighing.mix];
    for (auto& spray : treatment.sprays) spray.mix = place[*spray.mix];
  }
  plan.mixes = std::move(kept);
  const std::string start = plan.code.empty() ? "" : plan.code + "-";
  for (std::size_t m = 0; m < plan.mixes.size(); ++m) {
    auto& steps = plan.mixes[m].steps;
    for (std::size_t s = 0; s < steps.size(); ++s) {
      steps[s].batch_code = start + "MIX" + std::to_string(m + 1);
      if (steps.size() > 1) steps[s].batch_code += "-" + std::to_string(s + 1);
    }
  }
}

}  // namespace leastwise::trial

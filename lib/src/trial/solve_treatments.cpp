#include "trial/solve_treatments.hpp"

#include <algorithm>
#include <utility>

#include "solve/joint/joint.hpp"
#include "trial/applications.hpp"
#include "trial/asked.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double m2_per_hectare = 10000;

void take_blend(const Treatment& treatment, const Blend& blend, TreatmentDraftPlan& draft,
                TreatmentPlan& plan) {
  plan.notes = blend.notes;
  plan.state = TreatmentState::planned;
  draft.asked = product_of(*treatment.scenario, blend, treatment.product_kg_per_ha.value_or(0));
}

void solve_one(const Treatment& treatment, const solve::TimeLeft& time, TreatmentDraftPlan& draft,
               TreatmentPlan& plan) {
  if (treatment.kind == TreatmentKind::nothing) {
    plan.state = TreatmentState::nothing;
    return;
  }
  const Scenario& scenario = *treatment.scenario;
  plan.notes.assign(scenario.notes().begin(), scenario.notes().end());
  if (treatment.kind == TreatmentKind::recipe) {
    plan.state = TreatmentState::planned;
    draft.asked = product_of(treatment);
    return;
  }
  plan.answer = formulate(scenario, time.brief());
  if (time.asked().intervals && plan.answer->conflict() != nullptr) {
    Formulation explained = formulate(scenario, time.options());  // with the nearest blend
    if (explained.conflict() != nullptr) plan.answer = std::move(explained);
  }
  if (const Blend* blend = plan.answer->blend()) {
    take_blend(treatment, *blend, draft, plan);
    return;
  }
  plan.state =
      plan.answer->conflict() != nullptr ? TreatmentState::infeasible : TreatmentState::stopped;
}

/// The products of each treatment that is solved and has a blend for every application, in the
/// order of the trial.
std::vector<std::vector<std::size_t>> solved_in(const TrialPlan& plan, const Trial& trial) {
  std::vector<std::vector<std::size_t>> solved;
  for (auto& products : products_of(trial)) {
    const bool all = std::ranges::all_of(products, [&](std::size_t t) {
      return plan.treatments[t].state == TreatmentState::planned &&
             trial.treatments()[t].kind == TreatmentKind::blend;
    });
    if (all) solved.push_back(std::move(products));
  }
  return solved;
}

std::vector<std::size_t> firsts_of(const std::vector<std::vector<std::size_t>>& groups) {
  std::vector<std::size_t> firsts;
  for (const auto& products : groups) firsts.push_back(products.front());
  return firsts;
}

/// What the trial holds equal, between which treatments.
std::vector<HeldRate> held_rates(const Trial& trial, const std::vector<std::size_t>& solved) {
  std::vector<HeldRate> rates;
  const auto add = [&](std::string nutrient, const std::vector<std::size_t>& treatments) {
    if (treatments.size() > 1) rates.push_back({std::move(nutrient), treatments, 0});
  };
  const Hold& hold = *trial.hold();
  for (const auto& nutrient : hold.nutrients) add(nutrient, solved);
  if (hold.all) {
    for (const auto& nutrient : all_nutrients(trial, solved))
      for (const auto& group : asking_alike(trial, solved, nutrient)) add(nutrient, group);
  }
  if (hold.product) add({}, solved);
  return rates;
}

double hectares_of(const TreatmentPlan& plan) { return plan.area_m2 / m2_per_hectare; }

double cost_apart(const TrialPlan& plan, const Trial& trial,
                  const std::vector<std::size_t>& solved) {
  double cost = 0;
  for (const std::size_t t : solved) {
    const Blend& blend = *plan.treatments[t].answer->blend();
    const double product = trial.treatments()[t].product_kg_per_ha.value_or(0);
    cost += blend.cost_per_ha.value_or(blend.cost_per_t * product / 1000) *
            hectares_of(plan.treatments[t]);
  }
  return cost;
}

class HoldSolver {
 public:
  HoldSolver(const Trial& trial, const solve::TimeLeft& time,
             std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan)
      : trial_(trial), time_(time), drafts_(drafts), plan_(plan), groups_(solved_in(plan, trial)) {
    for (const auto& products : groups_)
      solved_.insert(solved_.end(), products.begin(), products.end());
  }

  void run() {
    HoldPlan hold;
    hold.rates = held_rates(trial_, firsts_of(groups_));
    if (hold.rates.empty()) {
      hold.status = Status::optimal;
      plan_.hold = std::move(hold);
      return;
    }
    hold.cost_apart = cost_apart(plan_, trial_, solved_);
    const auto answer = solve::formulate_together(parts(), commons(hold.rates), time_.brief());
    hold.status = answer.status;
    hold.cost = answer.cost;
    hold.certificate = answer.certificate;
    hold.irreducible = answer.irreducible;
    hold.detail = answer.detail;
    for (std::size_t r = 0; r < answer.rates.size(); ++r) hold.rates[r].kg_per_ha = answer.rates[r];
    for (const auto& rule : answer.conflict) hold.conflict.push_back(named(rule, hold.rates));
    take(answer);
    plan_.hold = std::move(hold);
  }

 private:
  [[nodiscard]] std::vector<solve::Part> parts() const {
    std::vector<solve::Part> parts;
    for (const std::size_t t : solved_) {
      const Treatment& treatment = trial_.treatments()[t];
      solve::Part part{&*treatment.scenario, {}, hectares_of(plan_.treatments[t])};
      if (treatment.scenario->basis() == Basis::per_tonne)
        part.product_kg_per_ha = treatment.product_kg_per_ha;
      parts.push_back(part);
    }
    return parts;
  }

  [[nodiscard]] std::vector<solve::Common> commons(const std::vector<HeldRate>& rates) const {
    std::vector<solve::Common> commons;
    for (const auto& rate : rates) {
      solve::Common common{rate.nutrient, {}};
      for (const std::size_t t : rate.treatments) common.members.push_back(parts_of(t));
      commons.push_back(std::move(common));
    }
    return commons;
  }

  /// The parts that are products of the treatment whose first product is `t`.
  [[nodiscard]] std::vector<std::size_t> parts_of(std::size_t t) const {
    std::vector<std::size_t> parts;
    std::size_t part = 0;
    for (const auto& products : groups_) {
      for (std::size_t p = 0; p < products.size() && products.front() == t; ++p)
        parts.push_back(part + p);
      part += products.size();
    }
    return parts;
  }

  [[nodiscard]] HoldConflictRule named(const solve::JointRule& rule,
                                       const std::vector<HeldRate>& rates) const {
    HoldConflictRule named;
    if (rule.part) {
      named.treatment = solved_[*rule.part];
      named.rule = rule.rule;
    } else {
      const std::string& nutrient = rates[rule.common].nutrient;
      named.held = nutrient.empty() ? "product" : nutrient;
    }
    return named;
  }

  void take(const solve::JointAnswer& answer) {
    for (std::size_t p = 0; p < solved_.size(); ++p) {
      TreatmentPlan& plan = plan_.treatments[solved_[p]];
      TreatmentDraftPlan& draft = drafts_[solved_[p]];
      if (answer.status == Status::optimal) {
        plan.answer = answer.blends[p];
        take_blend(*draft.treatment, answer.blends[p], draft, plan);
        continue;
      }
      plan.state = answer.status == Status::infeasible ? TreatmentState::infeasible
                                                       : TreatmentState::stopped;
      plan.answer.reset();
      draft.asked.reset();
    }
  }

  const Trial& trial_;
  const solve::TimeLeft& time_;
  std::vector<TreatmentDraftPlan>& drafts_;
  TrialPlan& plan_;
  std::vector<std::vector<std::size_t>> groups_;
  std::vector<std::size_t> solved_{};  ///< the products of all groups, which are the parts
};

}  // namespace

void solve_treatments(const Trial& trial, const solve::TimeLeft& time,
                      std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan) {
  for (std::size_t t = 0; t < drafts.size(); ++t) {
    solve_one(trial.treatments()[t], time, drafts[t], plan.treatments[t]);
    if (const auto& tell = time.asked().progress)
      tell({"treatments", static_cast<long>(t + 1), static_cast<long>(drafts.size())});
  }
  if (trial.hold()) HoldSolver(trial, time, drafts, plan).run();
}

}  // namespace leastwise::trial

#include <leastwise/trial_plan.hpp>

#include <algorithm>
#include <utility>

#include "base/text/dates.hpp"
#include "trial/achieved.hpp"
#include "trial/applications.hpp"
#include "trial/cautions.hpp"
#include "trial/chance.hpp"
#include "trial/coating.hpp"
#include "trial/comparison.hpp"
#include "trial/day_plan.hpp"
#include "trial/load_rules.hpp"
#include "trial/loads_and_packs.hpp"
#include "trial/mixing.hpp"
#include "trial/order_of_work.hpp"
#include "trial/plan_fingerprint.hpp"
#include "trial/purchases.hpp"
#include "trial/recipe.hpp"
#include "trial/remedies.hpp"
#include "trial/solution.hpp"
#include "trial/solve_treatments.hpp"
#include "trial/stop_conditions.hpp"
#include "trial/treatment_notes.hpp"

namespace leastwise {
namespace trial {
namespace {

/// Plans the treatments of a trial together.
class Planner {
 public:
  Planner(const Trial& trial, SolveOptions options) : trial_(trial), time_(std::move(options)) {}

  TrialPlan plan() {
    head();
    solve_treatments(trial_, time_, drafts_, plan_);
    for (std::size_t t = 0; t < drafts_.size(); ++t) start(t);
    settle_products();
    for (std::size_t t = 0; t < drafts_.size(); ++t) finish(t);
    settle_mixes(drafts_, plan_);
    plan_.day_plan = day_plan(plan_);
    plan_.purchases = purchases_for(trial_, plan_);
    for (const auto& purchase : plan_.purchases) plan_.purchase_cost += purchase.cost;
    plan_.totals = totals_of(trial_, plan_);
    plan_.nutrients = compared(trial_, plan_);
    note_differences(plan_.nutrients, plan_);
    plan_.store_keeping = store_keeping(trial_.sample_g());
    plan_.cautions = general_cautions();
    add_trial_notes(trial_, plan_);
    plan_.fingerprint = fingerprint_of(plan_);
    return std::move(plan_);
  }

 private:
  void head() {
    plan_.title = trial_.title();
    plan_.code = trial_.code();
    plan_.currency = trial_.currency();
    plan_.seed = trial_.seed();
    plan_.mixed_on = trial_.mixed_on();
    plan_.spare_percent = trial_.spare_percent();
    plan_.sample_g = trial_.sample_g();
    plan_.sites.assign(trial_.sites().begin(), trial_.sites().end());
    plan_.labels = trial_.labels();
    plan_.spreader = trial_.spreader();
    plan_.applications.assign(trial_.applications().begin(), trial_.applications().end());
    plan_.plots = lay_out(trial_);
    plan_.treatments.resize(trial_.treatments().size());
    drafts_.resize(trial_.treatments().size());
    for (std::size_t t = 0; t < drafts_.size(); ++t) {
      name_product(trial_.treatments()[t], plan_.treatments[t]);
      drafts_[t].treatment = &trial_.treatments()[t];
    }
    for (std::size_t p = 0; p < plan_.plots.size(); ++p) {
      const Plot& plot = plan_.plots[p];
      drafts_[plot.treatment].plots.push_back(p);
      ++plan_.treatments[plot.treatment].plots;
      plan_.treatments[plot.treatment].area_m2 += plot.area_m2;
    }
  }

  void name_product(const Treatment& treatment, TreatmentPlan& plan) const {
    plan.name = treatment.name;
    plan.code = treatment.code;
    plan.application = treatment.application;
    plan.again = treatment.again;
    plan.treatment = treatment.treatment;
    plan.treatment_code = treatment.treatment_code;
    plan.mixed_on = trial_.mixed_on();
    if (trial_.applications().empty()) return;
    const std::string& day = trial_.applications()[treatment.application].on;
    if (!day.empty()) plan.mixed_on = day;
  }

  /// Mixes and loads of all products that can be made. What a treatment would take of a mix counts
  /// in the size of the mix, so once one cannot be made the mixes of the others are planned anew;
  /// so they are once a powder is dissolved instead.
  void settle_products() {
    std::vector<std::vector<Note>> notes;
    for (const auto& plan : plan_.treatments) notes.push_back(plan.notes);
    for (;;) {
      const auto before = planned();
      plan_mixes_and_loads(trial_, drafts_, plan_);
      plan_solutions(trial_, drafts_, plan_);
      bool again = false;
      for (std::size_t t = 0; t < drafts_.size(); ++t) again = !judge(t) || again;
      if (!again) hold_totals_to_ceilings(trial_, plan_);
      for (const std::size_t t : before) {
        const bool gone = plan_.treatments[t].state != TreatmentState::planned;
        again = again || (gone && (!drafts_[t].uses.empty() || !drafts_[t].dissolved.empty()));
      }
      if (!again) return;
      for (const std::size_t t : planned()) plan_.treatments[t].notes = notes[t];
    }
  }

  [[nodiscard]] std::vector<std::size_t> planned() const {
    std::vector<std::size_t> list;
    for (std::size_t t = 0; t < plan_.treatments.size(); ++t)
      if (plan_.treatments[t].state == TreatmentState::planned) list.push_back(t);
    return list;
  }

  /// A product of nothing is no product.
  void start(std::size_t t) {
    TreatmentPlan& plan = plan_.treatments[t];
    TreatmentDraftPlan& draft = drafts_[t];
    if (!draft.asked) return;
    if (draft.asked->total_kg_per_ha() <= 0) {
      draft.asked.reset();
      plan.state = TreatmentState::nothing;
      plan.notes.push_back({NoteLevel::info,
                            NoteCode::nothing_asked,
                            {},
                            "the scenario asks for nothing to be spread"});
      return;
    }
    draft.product = draft.solid = *draft.asked;
  }

  /// Where the load of a treatment breaks a rule, dissolves the powders that are too little in it,
  /// or takes its product away. False: the loads must be planned anew.
  bool judge(std::size_t t) {
    TreatmentPlan& plan = plan_.treatments[t];
    TreatmentDraftPlan& draft = drafts_[t];
    if (plan.state != TreatmentState::planned) return true;
    const Treatment& treatment = *draft.treatment;
    const Scenario& scenario = *treatment.scenario;
    note_rates(treatment, draft.product, plan);
    Contents contents = contents_of(scenario, plan.weighings, plan_.mixes);
    add_sprays(scenario, plan, plan_.mixes, contents);
    plan.nutrients = nutrient_checks(scenario, *draft.asked, contents, rate_on_plots(plan),
                                     plan.weighings, plan_.mixes);
    plan.rules = rule_checks(scenario, contents, rate_on_plots(plan),
                             treatment.kind == TreatmentKind::recipe);
    plan.coating = coating_of(trial_, scenario, plan);
    add_remedies(scenario, plan);
    // A stated recipe is made as it is stated; what it breaks is a warning on its sheet.
    if (treatment.kind == TreatmentKind::recipe || worst(plan.rules) != Verdict::broken)
      return true;
    if (dissolve_little(trial_, plan_.plots, draft, plan)) return false;
    add_mix_remedies(plan_.mixes, plan);
    add_solution_remedies(trial_, draft, plan);
    give_up(plan);
    return true;
  }

  void finish(std::size_t t) {
    TreatmentPlan& plan = plan_.treatments[t];
    TreatmentDraftPlan& draft = drafts_[t];
    if (plan.state != TreatmentState::planned) return;
    const Treatment& treatment = *draft.treatment;
    const Scenario& scenario = *treatment.scenario;
    plan.load_rules =
        load_rules(scenario, plan, plan_.mixes, treatment.kind == TreatmentKind::recipe);
    plan.ranges = mass_ranges(plan.load_rules, plan.weighings);
    describe(scenario, draft, plan);
    fill_packs(trial_, draft, plan, plan_.plots);
    for (std::size_t p = 0; p < draft.sprays.size(); ++p)
      plan_.plots[draft.plots[p]].sprays = draft.sprays[p];
  }

  /// What people do and mind, once the load stands.
  void describe(const Scenario& scenario, const TreatmentDraftPlan& draft, TreatmentPlan& plan) {
    TreatmentPlan apart = plan;  // what is really in the load
    apart.weighings = taken_apart(plan.weighings, plan_.mixes);
    plan.recipe = recipe_of(scenario, draft.product, apart.weighings, plan.batch_codes.size());
    add_sprayed(scenario, plan.sprays, plan_.mixes, plan.recipe);
    plan.variation = share_variation(scenario, draft.product, smallest_plot(plan));
    add_load_notes(trial_, draft, plan_.mixes, plan);
    plan.stop_conditions = stop_conditions(scenario, apart.weighings);
    drop_what_the_sheet_says(plan);
    add_warnings(plan.notes, plan.stop_conditions);
    plan.order_of_work = order_of_work(plan);
    plan.cautions = apart.cautions = cautions_for(scenario, apart);
    apart.stop_conditions = plan.stop_conditions;
    plan.hazards = hazards_of_product(apart);
    find_last_day(plan);
  }

  static std::int64_t smallest_plot(const TreatmentPlan& plan) {
    return std::ranges::min_element(plan.by_size, {}, &PlotGroup::pack_mg)->pack_mg;
  }

  static void find_last_day(TreatmentPlan& plan) {
    constexpr std::chrono::days keeps{28};  // common practice, where nothing speaks against it
    plan.same_day = std::ranges::any_of(plan.stop_conditions, [](const Note& note) {
      return note.code == NoteCode::must_not_be_kept;
    });
    if (const auto mixed = day_of(plan.mixed_on)) {
      plan.spread_by = date_text(plan.same_day ? *mixed : *mixed + keeps);
    }
  }

  const Trial& trial_;
  solve::TimeLeft time_;
  TrialPlan plan_{};
  std::vector<TreatmentDraftPlan> drafts_{};
};

}  // namespace
}  // namespace trial

std::string_view to_string(Role role) {
  switch (role) {
    case Role::granule:
      return "granule";
    case Role::powder:
      return "powder";
    case Role::binder:
      return "binder";
    case Role::dissolved:
      break;
  }
  return "dissolved";
}

std::string_view to_string(Verdict verdict) {
  switch (verdict) {
    case Verdict::holds:
      return "holds";
    case Verdict::within_one_percent:
      return "within 1 %";
    case Verdict::broken:
      break;
  }
  return "broken";
}

std::string_view to_string(TreatmentState state) {
  switch (state) {
    case TreatmentState::planned:
      return "planned";
    case TreatmentState::nothing:
      return "nothing";
    case TreatmentState::unweighable:
      return "unweighable";
    case TreatmentState::infeasible:
      return "infeasible";
    case TreatmentState::stopped:
      break;
  }
  return "stopped";
}

bool TrialPlan::complete() const {
  return !treatments.empty() && std::ranges::all_of(treatments, [](const TreatmentPlan& plan) {
    return plan.state == TreatmentState::planned || plan.state == TreatmentState::nothing;
  });
}

TrialPlan plan_trial(const Trial& trial, const SolveOptions& options) {
  return trial::Planner(trial, options).plan();
}

}  // namespace leastwise

#include <leastwise/trial_plan.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "base/text/wording.hpp"
#include "scenario/supply_notes.hpp"
#include "trial/achieved.hpp"
#include "trial/cautions.hpp"
#include "trial/coating.hpp"
#include "trial/dates.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"
#include "trial/order_of_work.hpp"
#include "trial/plots.hpp"
#include "trial/premix.hpp"
#include "trial/product.hpp"
#include "trial/purchases.hpp"
#include "trial/stop_conditions.hpp"

namespace leastwise {
namespace trial {
namespace {

using Clock = std::chrono::steady_clock;

/// Fills packs from the loads of a treatment in turn. Every load gives an equal part to the plots;
/// the rest of it is its part of the spare, which covers its own losses.
class LoadsInTurn {
 public:
  LoadsInTurn(std::int64_t packs_mg, std::size_t loads)
      : packs_mg_(packs_mg), loads_(static_cast<std::int64_t>(loads)) {}

  /// The first and the last load of the next pack.
  std::pair<std::size_t, std::size_t> take(std::int64_t mass_mg) {
    while (load_ + 1 < loads_ && end_of(load_) <= taken_mg_) ++load_;
    const auto first = static_cast<std::size_t>(load_);
    taken_mg_ += mass_mg;
    while (load_ + 1 < loads_ && end_of(load_) < taken_mg_) ++load_;
    return {first, static_cast<std::size_t>(load_)};
  }

 private:
  /// What the loads up to and with this one give to the plots; no product here can overflow.
  [[nodiscard]] std::int64_t end_of(std::int64_t load) const {
    return packs_mg_ / loads_ * (load + 1) + packs_mg_ % loads_ * (load + 1) / loads_;
  }

  std::int64_t packs_mg_;
  std::int64_t loads_;
  std::int64_t load_ = 0;
  std::int64_t taken_mg_ = 0;
};

/// Plans the treatments of a trial one by one.
class Planner {
 public:
  Planner(const Trial& trial, FormulateOptions options)
      : trial_(trial), options_(std::move(options)), start_(Clock::now()) {
    explain_ = options_.intervals;
    options_.intervals = false;
  }

  TrialPlan plan() {
    plan_.title = trial_.title();
    plan_.code = trial_.code();
    plan_.currency = trial_.currency();
    plan_.seed = trial_.seed();
    plan_.mixed_on = trial_.mixed_on();
    plan_.spare_percent = trial_.spare_percent();
    plan_.sites.assign(trial_.sites().begin(), trial_.sites().end());
    plan_.plots = lay_out(trial_);
    for (const auto& treatment : trial_.treatments()) {
      plan_.treatments.push_back(plan_treatment(treatment));
      if (options_.progress)
        options_.progress({"treatments", static_cast<long>(plan_.treatments.size()),
                           static_cast<long>(trial_.treatments().size())});
    }
    pack_plots();
    plan_.purchases = purchases_for(trial_, plan_.treatments);
    for (const auto& purchase : plan_.purchases) plan_.purchase_cost += purchase.cost;
    plan_.store_keeping = store_keeping();
    plan_.cautions = general_cautions();
    add_notes();
    return std::move(plan_);
  }

 private:
  [[nodiscard]] FormulateOptions options_now() const {
    FormulateOptions options = options_;
    if (options.time_limit) *options.time_limit -= Clock::now() - start_;
    return options;
  }

  TreatmentPlan plan_treatment(const Treatment& treatment) {
    TreatmentPlan plan;
    plan.name = treatment.name;
    plan.code = treatment.code;
    for (const auto& site : trial_.sites()) {
      const int plots = site.replicates * site.plots_per_treatment;
      plan.plots += static_cast<std::size_t>(plots);
      plan.area_m2 += plots * site.plot_area_m2;
    }
    packings_.emplace_back();
    if (const auto product = product_for(treatment, plan)) {
      plan_product(treatment, *product, plan);
    }
    return plan;
  }

  /// What to spread; nothing for a control and where there is no blend.
  std::optional<Product> product_for(const Treatment& treatment, TreatmentPlan& plan) const {
    if (treatment.kind == TreatmentKind::nothing) return std::nullopt;
    const Scenario& scenario = *treatment.scenario;
    plan.notes.assign(scenario.notes().begin(), scenario.notes().end());
    if (treatment.kind == TreatmentKind::recipe) return product_of(treatment);
    plan.answer = formulate(scenario, options_now());
    if (explain_ && plan.answer->conflict() != nullptr) {
      FormulateOptions with_nearest = options_now();
      with_nearest.intervals = true;
      Formulation explained = formulate(scenario, with_nearest);
      if (explained.conflict() != nullptr) plan.answer = std::move(explained);
    }
    if (const Blend* blend = plan.answer->blend()) {
      plan.notes = blend->notes;
      return product_of(scenario, *blend, treatment.product_kg_per_ha.value_or(0));
    }
    plan.state =
        plan.answer->conflict() != nullptr ? TreatmentState::infeasible : TreatmentState::stopped;
    return std::nullopt;
  }

  void plan_product(const Treatment& treatment, const Product& product, TreatmentPlan& plan) {
    const Scenario& scenario = *treatment.scenario;
    plan.state = TreatmentState::planned;
    plan.product_kg_per_ha = product.total_kg_per_ha();
    if (plan.product_kg_per_ha <= 0) {
      plan.state = TreatmentState::nothing;
      plan.notes.push_back({NoteLevel::info,
                            NoteCode::nothing_asked,
                            {},
                            "the scenario asks for nothing to be spread"});
      return;
    }
    note_rates(treatment, product, plan);
    plan_packs(bulk_density_kg_per_m3(scenario, product), plan);
    const double wanted = static_cast<double>(plan.packs_mg) * (1 + trial_.spare_percent() / 100);
    const auto needed =
        std::max<std::int64_t>(1, static_cast<std::int64_t>(std::ceil(wanted * (1 - 1e-15))));
    plan_loads(trial_, scenario, product, needed, plan);
    plan.spare_mg = plan.total_mg - plan.packs_mg;
    plan.nutrients = nutrient_checks(scenario, product, contents_of(scenario, plan.weighings),
                                     rate_on_plots(plan), plan.weighings);
    plan.rules = rule_checks(scenario, contents_of(scenario, plan.weighings), rate_on_plots(plan),
                             treatment.kind == TreatmentKind::recipe);
    plan.coating = coating_of(trial_, scenario, plan);
    add_remedies(scenario, plan);
    add_load_notes(scenario, product, plan);
    plan.stop_conditions = stop_conditions(scenario, plan.weighings);
    drop_what_the_sheet_says(plan);
    plan.order_of_work = order_of_work(plan);
    plan.cautions = cautions_for(scenario, plan);
    plan.hazards = hazards_of_product(plan);
    find_last_day(plan);
  }

  void find_last_day(TreatmentPlan& plan) const {
    constexpr std::chrono::days keeps{28};  // common practice, where nothing speaks against it
    plan.same_day = std::ranges::any_of(plan.stop_conditions, [](const Note& note) {
      return note.code == NoteCode::must_not_be_kept;
    });
    if (const auto mixed = day_of(trial_.mixed_on())) {
      plan.spread_by = date_text(plan.same_day ? *mixed : *mixed + keeps);
    }
  }

  /// The stop conditions say of what is really in the load which pairs it holds.
  static void drop_what_the_sheet_says(TreatmentPlan& plan) {
    std::erase_if(plan.notes, [&](const Note& note) {
      if (note.code == NoteCode::limited_compatibility ||
          note.code == NoteCode::no_compatibility_rule)
        return true;
      return note.code == NoteCode::rule_lifted && is_said(note, plan.stop_conditions);
    });
  }

  /// Whether a note of that code among `notes` speaks of everything that `note` speaks of.
  static bool is_said(const Note& note, const std::vector<Note>& notes) {
    return std::ranges::any_of(notes, [&](const Note& other) {
      return other.code == note.code && std::ranges::all_of(note.subjects, [&](const auto& name) {
               return std::ranges::find(other.subjects, name) != other.subjects.end();
             });
    });
  }

  /// The blend of a scenario with rates has these notes already.
  static void note_rates(const Treatment& treatment, const Product& product, TreatmentPlan& plan) {
    const Scenario& scenario = *treatment.scenario;
    if (treatment.kind == TreatmentKind::blend && scenario.basis() == Basis::per_hectare) return;
    std::erase_if(plan.notes,
                  [](const Note& note) { return note.code == NoteCode::spread_at_most; });
    const auto notes = notes_on_rates(scenario, product.kg_per_ha);
    plan.notes.insert(plan.notes.end(), notes.begin(), notes.end());
  }

  /// Packs the product for a plot of each site and sums up what all plots take.
  void plan_packs(double density, TreatmentPlan& plan) {
    for (const auto& site : trial_.sites()) {
      const double target = plan.product_kg_per_ha * site.plot_area_m2 * mg_per_kg_per_ha_m2;
      Packing packing = packing_of(trial_, target, density);
      const std::int64_t pack =
          std::accumulate(packing.masses_mg.begin(), packing.masses_mg.end(), std::int64_t{0});
      plan.packs_mg += pack * site.replicates * site.plots_per_treatment;
      note_coarse_pack(site, packing, pack, plan);
      packings_.back().push_back(std::move(packing));
    }
  }

  static void note_coarse_pack(const Site& site, const Packing& packing, std::int64_t pack_mg,
                               TreatmentPlan& plan) {
    const double shift =
        100 * (static_cast<double>(pack_mg) - packing.target_mg) / packing.target_mg;
    if (std::abs(shift) <= 1) return;
    plan.notes.push_back({NoteLevel::warning,
                          NoteCode::pack_rounded,
                          {site.name},
                          "a plot of " + site.name + " takes " +
                              rounded_text(packing.target_mg / mg_per_g) +
                              " g, which the balance " + packing.balance + " rounds by " +
                              rounded_text(shift) + " %: weigh the packs on a finer balance"});
  }

  /// kg/ha that the packs come to, over all plots.
  [[nodiscard]] static double rate_on_plots(const TreatmentPlan& plan) {
    return static_cast<double>(plan.packs_mg) / (plan.area_m2 * mg_per_kg_per_ha_m2);
  }

  void add_load_notes(const Scenario& scenario, const Product& product, TreatmentPlan& plan) const {
    const double load_kg = static_cast<double>(plan.load_mg) / mg_per_kg;
    if (plan.mixer_kind == MixerKind::bucket && load_kg >= bucket_limit_kg) {
      plan.notes.push_back({NoteLevel::caution,
                            NoteCode::bucket_load,
                            {},
                            "a load of " + rounded_text(load_kg) +
                                " kg tires arms and mixes badly in a bucket: from about 10 kg on a "
                                "drum mixer is used (common practice)"});
    }
    std::vector<std::string> unknown;
    for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i) {
      const Material& material = scenario.materials()[i];
      if (product.kg_per_ha[i] > 0 && !material.bulk_density_kg_per_m3) {
        unknown.push_back(material.name);
      }
    }
    const bool by_volume =
        std::any_of(trial_.mixers().begin(), trial_.mixers().end(),
                    [](const Mixer& m) { return m.capacity_litres.has_value(); });
    if (by_volume && !unknown.empty()) {
      plan.notes.push_back({NoteLevel::info, NoteCode::density_assumed, unknown,
                            "no bulk density is stated for " + listed(unknown) +
                                ": 800 kg per cubic metre is reckoned with "
                                "(common practice: 700 to 1400)"});
    }
  }

  void pack_plots() {
    std::vector<LoadsInTurn> loads;
    for (const auto& treatment : plan_.treatments) {
      loads.emplace_back(treatment.packs_mg, treatment.batch_codes.size());
    }
    for (auto& plot : plan_.plots) {
      if (plan_.treatments[plot.treatment].state != TreatmentState::planned) continue;
      const Packing& packing = packings_[plot.treatment][plot.site];
      plot.container = packing.container;
      plot.balance = packing.balance;
      for (std::size_t i = 0; i < packing.masses_mg.size(); ++i) {
        const std::string part =
            packing.masses_mg.size() > 1 ? "/" + std::to_string(i + 1) : std::string();
        const auto [first, last] = loads[plot.treatment].take(packing.masses_mg[i]);
        plot.packs.push_back({plot.code + part, packing.masses_mg[i], first, last});
      }
    }
  }

  /// Notes that more than one product carries are said once for the trial.
  void lift_shared_notes() {
    std::vector<std::pair<Note, int>> counted;
    for (const auto& treatment : plan_.treatments) {
      for (const auto& note : treatment.notes) {
        const auto known = std::find_if(counted.begin(), counted.end(),
                                        [&](const auto& entry) { return entry.first == note; });
        if (known != counted.end()) {
          ++known->second;
        } else {
          counted.emplace_back(note, 1);
        }
      }
    }
    for (const auto& [note, times] : counted) {
      if (times < 2) continue;
      plan_.notes.push_back(note);
      for (auto& treatment : plan_.treatments) std::erase(treatment.notes, note);
    }
  }

  void add_notes() {
    lift_shared_notes();
    if (!trial_.seed()) {
      plan_.notes.push_back({NoteLevel::info,
                             NoteCode::no_seed,
                             {},
                             "no seed is given, so plots stand in the order of the treatments; "
                             "give a seed for a randomised layout"});
    }
    if (trial_.spare_percent() == 0) {
      plan_.notes.push_back({NoteLevel::caution,
                             NoteCode::no_spare,
                             {},
                             "no spare is planned: dust and what clings to the mixer will be "
                             "missing from the last plot"});
    }
  }

  const Trial& trial_;
  FormulateOptions options_;
  bool explain_ = true;  ///< also find the nearest blend of a treatment that has none
  Clock::time_point start_;
  TrialPlan plan_{};
  std::vector<std::vector<Packing>> packings_{};  ///< by treatment, then site
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
      break;
  }
  return "binder";
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
    case TreatmentState::infeasible:
      return "infeasible";
    case TreatmentState::stopped:
      break;
  }
  return "stopped";
}

bool TrialPlan::complete() const {
  return std::none_of(treatments.begin(), treatments.end(), [](const TreatmentPlan& plan) {
    return plan.state == TreatmentState::infeasible || plan.state == TreatmentState::stopped;
  });
}

TrialPlan plan_trial(const Trial& trial, const FormulateOptions& options) {
  return trial::Planner(trial, options).plan();
}

}  // namespace leastwise

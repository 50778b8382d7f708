#include "trial/solution.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "base/text/wording.hpp"
#include "chemistry/materials/solubility.hpp"
#include "trial/balances.hpp"
#include "trial/cautions.hpp"
#include "trial/mass.hpp"
#include "trial/mix_steps.hpp"
#include "trial/solution_steps.hpp"
#include "trial/stock_mix.hpp"

namespace leastwise::trial {
namespace {

constexpr double of_saturation = 0.5;  // it dissolves in the cold, and nothing falls out
constexpr double g_per_l_of_water = 1000;

/// By mass, of the strongest solution that is made.
std::optional<double> most_fraction(const Trial& trial, const Material& material) {
  const auto& stated = trial.solutions().solubility_g_per_l;
  const auto own = std::ranges::find(stated, material.name, &std::pair<std::string, double>::first);
  const auto g_per_l = own != stated.end() ? own->second : solubility_g_per_l(material);
  if (!g_per_l) return std::nullopt;
  return of_saturation * *g_per_l / (g_per_l_of_water + *g_per_l);
}

/// Powders of which a load holds too little.
std::vector<std::size_t> little_in(const Trial& trial, const TreatmentDraftPlan& draft,
                                   const TreatmentPlan& plan) {
  std::vector<std::size_t> list;
  const auto materials = draft.treatment->scenario->materials();
  const double mg = static_cast<double>(plan.load_mg) / draft.product.total_kg_per_ha();
  for (std::size_t i = 0; i < materials.size(); ++i) {
    const double load_mg = draft.solid.kg_per_ha[i] * mg;
    if (load_mg > 0 && role_of(materials[i]) == Role::powder && is_too_little(trial, load_mg))
      list.push_back(i);
  }
  return list;
}

/// kg of solution per hectare: what was asked for, or what the smallest plot must get to be weighed
/// well.
double solution_rate(const Trial& trial, const std::vector<Plot>& plots,
                     const TreatmentDraftPlan& draft) {
  double smallest = plots[draft.plots.front()].area_m2;
  for (const std::size_t p : draft.plots) smallest = std::min(smallest, plots[p].area_m2);
  const double asked = trial.solutions().litres_per_ha;
  const double mg = asked * smallest * mg_per_kg_per_ha_m2;
  return asked * std::max(1.0, ample_mass_mg(trial.balances(), mg) / mg);
}

bool is_solved_per_hectare(const TreatmentDraftPlan& draft) {
  return draft.treatment->kind == TreatmentKind::blend &&
         draft.treatment->scenario->basis() == Basis::per_hectare;
}

/// The product without what is dissolved, and without the binder for that.
Product without_dissolved(const TreatmentDraftPlan& draft) {
  constexpr double rounding = 1e-9;
  Product solid = *draft.asked;
  const auto& binder = draft.treatment->scenario->binder();
  for (const std::size_t i : draft.dissolved) {
    solid.binder_kg_per_ha -= solid.kg_per_ha[i] * binder.percent_of_powder / 100;
    solid.kg_per_ha[i] = 0;
  }
  if (solid.binder_kg_per_ha < rounding * draft.asked->binder_kg_per_ha) solid.binder_kg_per_ha = 0;
  return solid;
}

bool has_granules(const TreatmentDraftPlan& draft) {
  const auto materials = draft.treatment->scenario->materials();
  for (std::size_t i = 0; i < materials.size(); ++i)
    if (draft.solid.kg_per_ha[i] > 0 && role_of(materials[i]) == Role::granule) return true;
  return false;
}

PlotSpray spray_of_plot(const Trial& trial, const Plot& plot, std::size_t spray, double rate) {
  const double mg = rate * plot.area_m2 * mg_per_kg_per_ha_m2;
  const Balance& balance = balance_for(trial.balances(), mg);
  PlotSpray one;
  one.spray = spray;
  one.balance = balance.name;
  one.readability_mg = readability_mg(balance);
  one.mass_mg = rounded_to(mg, one.readability_mg);
  return one;
}

/// What one solution must give.
struct SolutionNeed {
  std::string material{};
  const Material* powder = nullptr;
  double fraction = 0;
  double most_fraction = 0;
  std::size_t application = 0;
  std::string subject{};
  double mg = 0;
  std::vector<Spray*> sprays{};
};

bool is_same(const SolutionNeed& a, const SolutionNeed& b) {
  constexpr double nearly = 1e-9;
  return a.material == b.material && a.application == b.application && a.subject == b.subject &&
         std::abs(a.fraction - b.fraction) <= nearly * a.fraction;
}

void add_need(SolutionNeed need, std::vector<SolutionNeed>& needs) {
  const auto same =
      std::ranges::find_if(needs, [&](const SolutionNeed& other) { return is_same(other, need); });
  if (same == needs.end()) {
    needs.push_back(std::move(need));
    return;
  }
  same->mg += need.mg;
  same->sprays.push_back(need.sprays.front());
}

std::vector<SolutionNeed> needs_of(const Trial& trial,
                                   const std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan) {
  std::vector<SolutionNeed> needs;
  for (std::size_t t = 0; t < drafts.size(); ++t) {
    if (plan.treatments[t].state != TreatmentState::planned) continue;
    for (auto& spray : plan.treatments[t].sprays) {
      const Scenario& scenario = *drafts[t].treatment->scenario;
      const Material& material = scenario.materials()[*scenario.index_of(spray.material)];
      SolutionNeed need;
      need.material = spray.material;
      need.powder = &material;
      need.fraction = spray.kg_per_ha / spray.solution_kg_per_ha;
      need.most_fraction = most_fraction(trial, material).value_or(need.fraction);
      need.application = drafts[t].treatment->application;
      need.subject = subject_of(material);
      need.mg = static_cast<double>(spray.plots_mg);
      need.sprays = {&spray};
      add_need(std::move(need), needs);
    }
  }
  return needs;
}

}  // namespace

bool dissolve_little(const Trial& trial, const std::vector<Plot>& plots, TreatmentDraftPlan& draft,
                     TreatmentPlan& plan) {
  if (!trial.solutions().allowed || !is_solved_per_hectare(draft)) return false;
  const double rate = solution_rate(trial, plots, draft);
  std::vector<std::size_t> soluble;
  for (const std::size_t i : little_in(trial, draft, plan)) {
    const auto most = most_fraction(trial, draft.treatment->scenario->materials()[i]);
    if (most && draft.asked->kg_per_ha[i] / rate <= *most) soluble.push_back(i);
  }
  if (soluble.empty()) return false;
  const auto before = draft.dissolved;
  draft.dissolved.insert(draft.dissolved.end(), soluble.begin(), soluble.end());
  const Product solid = std::exchange(draft.solid, without_dissolved(draft));
  if (!has_granules(draft)) {
    draft.dissolved = before;
    draft.solid = solid;
    return false;
  }
  draft.sprays.resize(draft.plots.size());
  for (const std::size_t i : soluble) {
    Spray spray;
    spray.material = draft.treatment->scenario->materials()[i].name;
    spray.kg_per_ha = draft.asked->kg_per_ha[i];
    spray.solution_kg_per_ha = rate;
    for (std::size_t p = 0; p < draft.plots.size(); ++p) {
      draft.sprays[p].push_back(
          spray_of_plot(trial, plots[draft.plots[p]], plan.sprays.size(), rate));
      spray.plots_mg += draft.sprays[p].back().mass_mg;
    }
    plan.sprays.push_back(std::move(spray));
  }
  return true;
}

void add_solution_remedies(const Trial& trial, const TreatmentDraftPlan& draft,
                           TreatmentPlan& plan) {
  if (!is_solved_per_hectare(draft)) return;
  for (const std::size_t i : little_in(trial, draft, plan)) {
    const Material& material = draft.treatment->scenario->materials()[i];
    std::string text = in_quotes(material.name) + " is not sprayed on instead: ";
    if (!trial.solutions().allowed) {
      text += "the trial says solutions: false";
    } else if (most_fraction(trial, material)) {
      text += "it does not dissolve in " + number_text(trial.solutions().litres_per_ha) +
              " l/ha; allow more litres_per_ha under solutions";
    } else {
      text +=
          "no table says that it dissolves in water; take a source that does, or state its "
          "solubility_g_per_l under solutions";
    }
    plan.notes.push_back(
        {NoteLevel::warning, NoteCode::sprayed_on, {material.name}, std::move(text)});
  }
}

void plan_solutions(const Trial& trial, const std::vector<TreatmentDraftPlan>& drafts,
                    TrialPlan& plan) {
  for (const auto& need : needs_of(trial, drafts, plan)) {
    StockMix mix;
    mix.code = "solution " + need.subject + "-" + std::to_string(plan.mixes.size() + 1);
    mix.application = need.application;
    SolutionWish wish;
    wish.material = need.material;
    wish.needed_mg = need.mg * (1 + trial.spare_percent() / 100) * for_what_clings;
    wish.fraction = need.fraction;
    wish.most_fraction = need.most_fraction;
    make_solution(trial.balances(), wish, mix);
    mix.cautions = cautions_for_solution(*need.powder);
    for (Spray* spray : need.sprays) spray->mix = plan.mixes.size();
    plan.mixes.push_back(std::move(mix));
  }
}

void add_sprays(const Scenario& scenario, const TreatmentPlan& plan,
                const std::vector<StockMix>& mixes, Contents& contents) {
  if (plan.sprays.empty()) return;
  contents.sprayed_kg_per_ha.assign(scenario.materials().size(), 0);
  for (const auto& spray : plan.sprays) {
    const double rate = static_cast<double>(spray.plots_mg) / (plan.area_m2 * mg_per_kg_per_ha_m2);
    const double fraction = spray.mix ? mixes[*spray.mix].parts.front().fraction
                                      : spray.kg_per_ha / spray.solution_kg_per_ha;
    contents.sprayed_kg_per_ha[*scenario.index_of(spray.material)] += rate * fraction;
  }
}

}  // namespace leastwise::trial

#include <leastwise/trial_check.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "trial/achieved.hpp"
#include "trial/applied.hpp"
#include "trial/mass.hpp"
#include "trial/purchases.hpp"
#include "trial/rescue.hpp"
#include "trial/solution.hpp"
#include "trial/weighed_mixes.hpp"

namespace leastwise {
namespace trial {
namespace {

std::string name_of(const Weighing& weighing) {
  return weighing.material.empty() ? std::string(unnamed_binder) : weighing.material;
}

/// Where a batch stands in the plan.
struct Batch {
  std::size_t treatment = 0;
  std::size_t order = 0;
};

/// Sorts what was weighed by batch and holds each batch against its treatment.
class Checker {
 public:
  Checker(const Trial& trial, const TrialPlan& plan, WeighedMixes mixes)
      : trial_(trial), plan_(plan), mixes_(std::move(mixes)) {
    diagnostics_ = std::move(mixes_.diagnostics);
    for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
      for (const auto& code : plan.treatments[t].batch_codes) {
        batches_.emplace(code, Batch{t, order_.size()});
        order_.push_back(code);
      }
    }
  }

  WeighedCheck check() {
    for (const auto* line : mixes_.rest) take(*line);
    WeighedCheck result;
    result.title = plan_.title;
    result.verdict = Verdict::holds;
    result.mixes = std::move(mixes_.checks);
    for (const auto& code : order_) {
      const auto lines = lines_.find(code);
      if (lines == lines_.end()) {
        result.not_weighed.push_back(code);
        continue;
      }
      result.batches.push_back(check_batch(code, lines->second));
      result.verdict = std::max(result.verdict, result.batches.back().verdict);
    }
    if (!diagnostics_.empty()) throw InputError(std::move(diagnostics_));
    result.applied = applied_plots(plan_, result);
    return result;
  }

 private:
  using Lines = std::map<std::string, const Weighed*>;

  void error(std::string_view code, std::string message, const Place& place) {
    Diagnostic diagnostic;
    diagnostic.code = std::string(code);
    diagnostic.message = std::move(message);
    diagnostic.place = place;
    diagnostics_.push_back(std::move(diagnostic));
  }

  void take(const Weighed& line) {
    const auto batch = batches_.find(line.batch);
    if (batch == batches_.end()) {
      Suggestion suggestion(line.batch);
      for (const auto& code : order_) suggestion.offer(code);
      error(codes::unknown_batch,
            "expected the code of a batch of the plan, found " + in_quotes(line.batch) +
                suggestion.question(),
            line.place);
      return;
    }
    const auto& weighings = plan_.treatments[batch->second.treatment].weighings;
    if (std::none_of(weighings.begin(), weighings.end(),
                     [&](const Weighing& w) { return name_of(w) == line.material; })) {
      Suggestion suggestion(line.material);
      for (const auto& weighing : weighings) suggestion.offer(name_of(weighing));
      error(codes::unknown_material,
            "expected a material of batch " + in_quotes(line.batch) + ", found " +
                in_quotes(line.material) + suggestion.question(),
            line.place);
      return;
    }
    const auto [first, is_new] = lines_[line.batch].emplace(line.material, &line);
    if (!is_new) {
      error(codes::weighed_twice,
            in_quotes(line.material) + " must be weighed once for batch " + in_quotes(line.batch) +
                ", found it again; add the parts up",
            line.place);
    }
  }

  BatchCheck check_batch(const std::string& code, const Lines& lines) {
    const std::size_t t = batches_.find(code)->second.treatment;
    const TreatmentPlan& plan = plan_.treatments[t];
    const Treatment& treatment = trial_.treatments()[t];
    const Scenario& scenario = *treatment.scenario;
    BatchCheck check;
    check.batch = code;
    check.treatment = plan.name;
    check.product_kg_per_ha =
        static_cast<double>(plan.packs_mg) / (plan.area_m2 * mg_per_kg_per_ha_m2);
    Contents contents;
    contents.kg.assign(scenario.materials().size(), 0);
    for (const auto& weighing : plan.weighings) {
      const auto line = lines.find(name_of(weighing));
      if (line == lines.end()) {
        if (weighing.mass_mg == 0) continue;
        error(codes::not_weighed,
              "batch " + in_quotes(code) + " must list " + in_quotes(name_of(weighing)) +
                  ", found nothing; write 0 if none went in",
              lines.begin()->second->place);
        continue;
      }
      add(scenario, weighing, *line->second, mixes_.mixes, contents, check);
    }
    add_sprays(scenario, plan, mixes_.mixes, contents);
    judge(treatment, plan, scenario, contents, check);
    if (check.verdict == Verdict::broken && contents.total_kg() > 0)
      check.rescue = rescue_of(trial_, plan_, t, mixes_.mixes, check);
    return check;
  }

  static void add(const Scenario& scenario, const Weighing& weighing, const Weighed& line,
                  const std::vector<StockMix>& mixes, Contents& contents, BatchCheck& check) {
    const double mass_g = line.mass_g;
    WeighedMaterial material{name_of(weighing), weighing.mass_mg, mass_g, 0,
                             line.lot,          line.initials};
    if (weighing.mass_mg > 0) {
      const double planned_g = static_cast<double>(weighing.mass_mg) / mg_per_g;
      material.deviation_percent = 100 * (mass_g - planned_g) / planned_g;
    }
    check.materials.push_back(std::move(material));
    add_contents(scenario, weighing, mass_g / 1000, mixes, contents);
  }

  static void judge(const Treatment& treatment, const TreatmentPlan& plan, const Scenario& scenario,
                    const Contents& contents, BatchCheck& check) {
    const bool recipe = treatment.kind == TreatmentKind::recipe;
    if (contents.total_kg() <= 0) {
      check.verdict = Verdict::broken;
      check.notes.push_back({NoteLevel::warning,
                             NoteCode::nothing_weighed,
                             {},
                             "nothing was weighed for this batch"});
      return;
    }
    check.rules = rule_checks(scenario, contents, check.product_kg_per_ha, recipe);
    check.verdict = worst(check.rules);
    for (const auto& planned : plan.nutrients) {
      NutrientCheck nutrient = planned;
      nutrient.readability_percent = 0;
      const auto percent = percents_of(scenario, planned.nutrient);
      nutrient.sprayed_kg_per_ha = sum_of(percent, contents.sprayed_kg_per_ha);
      nutrient.achieved_kg_per_ha =
          sum_of(percent, contents.kg) / contents.total_kg() * check.product_kg_per_ha +
          nutrient.sprayed_kg_per_ha;
      nutrient.deviation_percent =
          planned.planned_kg_per_ha > 0
              ? 100 * (nutrient.achieved_kg_per_ha / planned.planned_kg_per_ha - 1)
              : 0;
      check.nutrients.push_back(std::move(nutrient));
    }
    note_mass(plan, contents, check);
  }

  /// What the materials hold of a nutrient; empty where it is not reported.
  static std::vector<double> percents_of(const Scenario& scenario, const std::string& nutrient) {
    for (const auto& reported : scenario.reported())
      if (reported.nutrient == nutrient) return reported.content_percent;
    return {};
  }

  static double sum_of(const std::vector<double>& percent, const std::vector<double>& kg) {
    double sum = 0;
    for (std::size_t i = 0; i < kg.size() && i < percent.size(); ++i)
      sum += percent[i] / 100 * kg[i];
    return sum;
  }

  /// Says when the batch is too small for its share of the plots.
  static void note_mass(const TreatmentPlan& plan, const Contents& contents, BatchCheck& check) {
    const auto loads = static_cast<double>(plan.batch_codes.size());
    const double share_kg = static_cast<double>(plan.packs_mg) / mg_per_kg / loads;
    const double missing = share_kg - contents.total_kg();
    if (missing <= 1e-9) return;
    check.notes.push_back({NoteLevel::warning,
                           NoteCode::batch_short,
                           {},
                           "the batch is " + rounded_text(missing * 1000) +
                               " g short of what its share of the plots takes: use the spare of "
                               "another batch, or mix more"});
  }

  const Trial& trial_;
  const TrialPlan& plan_;
  WeighedMixes mixes_;
  std::map<std::string, Batch> batches_{};
  std::vector<std::string> order_{};
  std::map<std::string, Lines> lines_{};
  std::vector<Diagnostic> diagnostics_{};
};

/// A list that was written for another plan is refused as a whole, at its first such line.
void check_plan(const TrialPlan& plan, std::span<const Weighed> weighed) {
  for (const auto& line : weighed) {
    if (line.plan.empty() || line.plan == plan.fingerprint) continue;
    Diagnostic diagnostic;
    diagnostic.code = std::string(codes::other_plan);
    diagnostic.message = "this list was written for another trial, seed or recipe: expected plan " +
                         in_quotes(plan.fingerprint) + ", found " + in_quotes(line.plan) +
                         "; check it against the files as they were when the sheets were printed";
    diagnostic.place = line.place;
    throw InputError({std::move(diagnostic)});
  }
}

}  // namespace
}  // namespace trial

WeighedCheck check_weighed(const Trial& trial, const TrialPlan& plan,
                           std::span<const Weighed> weighed) {
  trial::check_plan(plan, weighed);
  return trial::Checker(trial, plan, trial::weighed_mixes(plan, weighed)).check();
}

}  // namespace leastwise

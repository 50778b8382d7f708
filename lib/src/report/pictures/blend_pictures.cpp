#include <leastwise/nutrient.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "report/drawing/bars.hpp"
#include "report/drawing/tap_targets.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/pictures/pictures.hpp"
#include "report/recipe_table.hpp"

namespace leastwise::report {
namespace {

/// Makes the bars of one blend: all know the basis and the whole cost.
class CostBars {
 public:
  explicit CostBars(const Blend& blend) : blend_(blend) {}

  void add(const std::string& label, double cost_per_t) {
    const double cost = blend_.total_kg_per_ha && blend_.basis == Basis::per_hectare
                            ? cost_per_t * *blend_.total_kg_per_ha / whole_product(blend_.units)
                            : cost_per_t;
    const std::string share =
        blend_.cost_per_t > 0
            ? fmt::format(", {} %", share_text(100 * cost_per_t / blend_.cost_per_t))
            : std::string{};
    bars_.push_back({label, cost, {}, money_text(cost) + share});
  }

  /// The dearest first, as the title has it.
  [[nodiscard]] std::vector<Bar> bars() && {
    std::ranges::stable_sort(bars_, std::greater{},
                             [](const Bar& bar) { return bar.value.value_or(0); });
    return std::move(bars_);
  }

 private:
  const Blend& blend_;
  std::vector<Bar> bars_{};
};

/// Whether the value lies on a limit: a bar that ends where its mark is says nothing.
bool is_just_met(double value, const Limits& asked) {
  const auto on = [&](double limit) { return std::abs(value - limit) <= 1e-3 * std::abs(limit); };
  return (asked.has_min() && on(asked.min)) || (asked.has_max() && on(asked.max));
}

void add_target(std::vector<Target>& targets, std::string label, double value,
                std::optional<double> there, const Limits& asked, const std::string& words,
                std::string_view unit) {
  if (asked == Limits{} || is_just_met(value, asked)) return;
  const bool differs = there && *there > value * (1 + 1e-9);
  if (!differs) there.reset();
  targets.push_back({std::move(label), value, there, asked,
                     fmt::format("{} {}, asked {}", amount_text(value), unit, words)});
}

}  // namespace

Picture cost_picture(const Blend& blend) {
  CostBars bars(blend);
  for (const Portion& portion : blend.portions) bars.add(portion.material, portion.cost_per_t);
  if (blend.binder.kg_per_t > 0)
    bars.add(blend.binder.material.empty() ? "binder" : blend.binder.material + " (binder)",
             blend.binder.cost_per_t);
  if (blend.breakdown.blending_per_t != 0) bars.add("blending fee", blend.breakdown.blending_per_t);
  return bar_chart("What the cost is made of",
                   fmt::format("{}, and share of the cost; freight included",
                               cost_heading(blend.currency, blend.basis, blend.units)),
                   std::move(bars).bars());
}

Picture supply_picture(const Blend& blend) {
  std::vector<Target> targets;
  for (const Supply& supply : blend.supply) {
    if (supply.kg_per_ha)
      add_target(targets, supply.nutrient, supply.effective_kg_per_ha.value_or(*supply.kg_per_ha),
                 supply.kg_per_ha, supply.rate_kg_per_ha, asked_words(supply.rate_kg_per_ha),
                 unit_name(Measure::rate, blend.units));
    add_target(targets, supply.nutrient, supply.percent, {}, supply.grade_percent,
               asked_percent_words(supply), is_percentage(supply.nutrient) ? "%" : "");
  }
  if (targets.empty()) return {};
  return target_chart("Supply beyond what is asked", targets);
}

Picture conflict_picture(const Conflict& conflict) {
  Outcome outcome;
  outcome.status = Status::infeasible;
  outcome.conflict = conflict;
  return ending_picture(conflict.title.empty() ? "No blend" : conflict.title, outcome);
}

Picture stopped_picture(const Stopped& stopped) {
  Outcome outcome;
  outcome.status = Status::stopped;
  outcome.detail = "no answer is proved: " + stopped.detail;
  return ending_picture(stopped.title.empty() ? "No proved blend" : stopped.title, outcome);
}

}  // namespace leastwise::report

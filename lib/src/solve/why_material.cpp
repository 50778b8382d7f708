#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "base/text/wording.hpp"
#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/index.hpp"

namespace leastwise::solve {
namespace {

/// The scenario with at least so much of a material in the product.
Scenario with_least_share(const Scenario& scenario, std::size_t i, double percent) {
  ScenarioDraft draft = scenario.draft();
  const Material& material = scenario.materials()[i];
  auto stated = std::ranges::find(draft.materials, material.name, &MaterialDraft::name);
  if (stated == draft.materials.end()) {  // a built-in that only `use` names
    MaterialDraft named;
    named.name = material.name;
    named.price_per_t = material.price_per_t;
    draft.materials.push_back(std::move(named));
    stated = std::prev(draft.materials.end());
  }
  Limits share = material.share_percent;
  share.min = std::max({percent, material.min_if_used_percent, share.has_min() ? share.min : 0.0});
  share.max = std::max(share.max, share.min);  // its own maximum is what is asked about
  stated->share_percent = share;
  stated->left_out = false;
  return Scenario(draft);
}

/// Answers for one material.
class Asking {
 public:
  Asking(const Task& task, const solver::SearchResult& solution, const Blend& blend, std::size_t i)
      : task_(task), solution_(solution), blend_(blend), i_(i) {
    const auto& columns = task.model.material_of;
    const auto found = std::ranges::find(columns, static_cast<int>(i));
    if (found != columns.end()) column_ = static_cast<int>(found - columns.begin());
    const Material& material = task.scenario.materials()[i];
    answer_.material = material.name;
    answer_.price_per_t = material.price_per_t;
    answer_.freight_per_t = material.freight_per_t;
    answer_.cost_per_t = task.scenario.cost_per_kg(i) * kg_per_tonne;
    answer_.used = column_ >= 0 && solution.x[index(column_)] > 0;
  }

  WhyMaterial answer() && {
    const auto& unused = blend_.unused;
    const auto left_out = std::ranges::find(unused, answer_.material, &UnusedMaterial::material);
    if (left_out != unused.end()) {
      answer_.why = left_out->why;
      answer_.enters_below_price_per_t = left_out->enters_below_price_per_t;
    }
    if (column_ < 0) return std::move(answer_);  // its form keeps it out
    add_worth();
    add_apart();
    if (!answer_.used) force();
    return std::move(answer_);
  }

 private:
  void add_worth();
  void add_apart();
  void force();

  const Task& task_;
  const solver::SearchResult& solution_;
  const Blend& blend_;
  std::size_t i_;
  int column_ = -1;
  WhyMaterial answer_{};
};

/// Each row that the material has a part in, at the row's price: what a tonne of it saves
/// elsewhere.
void Asking::add_worth() {
  const auto& data = solution_.leaf;
  for (int row = 0; row < data.rows; ++row) {
    const double price = solution_.y[index(row)];
    if (price == 0) continue;
    for (int e = data.row_start[index(row)]; e < data.row_start[index(row) + 1]; ++e) {
      const auto& entry = data.entries[index(e)];
      if (entry.column != column_) continue;
      const double worth = price * entry.value * kg_per_tonne;
      answer_.worth_per_t += worth;
      if (std::fabs(worth) < 1e-9 * std::max(1.0, std::fabs(answer_.cost_per_t))) continue;
      NamedRule rule = rule_of_row(task_, solution_, row);
      answer_.worth.push_back({std::move(rule.name), std::move(rule.id), worth});
    }
  }
  std::ranges::stable_sort(answer_.worth, [](const RuleWorth& a, const RuleWorth& b) {
    return std::fabs(a.worth_per_t) > std::fabs(b.worth_per_t);
  });
}

void Asking::add_apart() {
  const auto& scenario = task_.scenario;
  const std::string& family = scenario.materials()[i_].family;
  for (const Exclusion& pair : scenario.exclusions()) {
    if (pair.family_a != family && pair.family_b != family) continue;
    const std::string& other = pair.family_a == family ? pair.family_b : pair.family_a;
    for (const Portion& portion : blend_.portions)
      if (scenario.materials()[*scenario.index_of(portion.material)].family == other)
        answer_.apart.push_back({portion.material, other, pair.reason});
  }
}

void Asking::force() {
  if (out_of_time(task_)) return;
  const Scenario forced = with_least_share(task_.scenario, i_, answer_.forced_percent);
  answer_.forced_percent =
      forced.materials()[forced.index_of(answer_.material).value()].share_percent.min;
  SolveOptions options{.stop = task_.options.stop, .intervals = false};
  if (task_.search.deadline)
    options.time_limit = *task_.search.deadline - std::chrono::steady_clock::now();
  const Formulation found = formulate(forced, options);
  if (const Blend* blend = found.blend()) {
    answer_.forced_cost = blend->cost_per_ha.value_or(blend->cost_per_t);
    answer_.forced_rise = *answer_.forced_cost - solution_.cost;
    answer_.forced_portions = blend->portions;
  } else if (const Conflict* conflict = found.conflict()) {
    answer_.forced_cost = Known<double>::none();
    for (const ConflictingRule& rule : conflict->rules)
      if (rule.id.kind != RuleKind::share || rule.id.subject != answer_.material)
        answer_.conflict.push_back(rule.rule);
  }
}

}  // namespace

void add_why(const Task& task, const solver::SearchResult& solution, Blend& blend) {
  for (const std::string& name : task.options.why) {
    const auto position = task.scenario.index_of(name);
    if (position) blend.why.push_back(Asking(task, solution, blend, *position).answer());
  }
}

}  // namespace leastwise::solve

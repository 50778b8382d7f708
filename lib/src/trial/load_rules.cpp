#include "trial/load_rules.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scenario/rules.hpp"
#include "trial/achieved.hpp"
#include "trial/loads_and_packs.hpp"
#include "trial/mass.hpp"
#include "trial/solution.hpp"

namespace leastwise::trial {
namespace {

constexpr double kept_within = 0.01;  // of a limit: what is not yet broken
constexpr double rule_noise = 1e-9;
constexpr double per_tonne = 1000;  // kg

/// What a load comes to, in kg of the load; an inert carrier lies on granules as the binder does.
/// Each kg of the load goes with so much of what is sprayed on.
std::vector<rules::Achieved> sums_of(const Scenario& scenario, const Contents& contents,
                                     double product_kg_per_ha) {
  std::vector<double> sprayed_kg = contents.sprayed_kg_per_ha;
  for (double& kg : sprayed_kg) kg *= contents.total_kg() / product_kg_per_ha;
  const double on_granules = contents.binder_kg + contents.inert_kg;
  return measured_with_sprays(scenario, {contents.kg, on_granules}, sprayed_kg);
}

bool stands_by_itself(const rules::Rule& rule) {
  return rule.against.counts == rules::Counts::nothing;
}

/// The sides of the rules that a load can break by what it weighs, without their sums.
struct Sides {
  std::vector<LoadRule> rules{};
  std::vector<std::size_t> measured{};  ///< where each stands among what was measured
};

Sides sides_of(const std::vector<rules::Achieved>& planned, bool recipe) {
  Sides sides;
  for (std::size_t i = 0; i < planned.size(); ++i) {
    const rules::Rule& rule = planned[i].rule;
    if (!rule.is_linear() || (recipe && rule.id.kind != RuleKind::coating)) continue;
    for (const bool at_least : {true, false}) {
      if (rule.side == (at_least ? RuleSide::max : RuleSide::min)) continue;
      sides.rules.push_back(
          {to_string(rule.id), rule.limit, limit_unit(rule.id), at_least, rule.if_used, {}, {}});
      sides.measured.push_back(i);
    }
  }
  return sides;
}

/// Narrows `range` of weighing `k` to where `rule` is kept to within its tolerance.
///
/// With x grams of it the rule says of x + A >= L (to x + B), where A and B are the other
/// weighings; that is one bound on x.
void narrow(MassRange& range, const LoadRule& rule, const std::vector<Weighing>& load,
            std::size_t k) {
  const double slack = kept_within * std::abs(rule.limit);
  const double limit = rule.at_least ? rule.limit - slack : rule.limit + slack;
  double rest = 0;
  for (std::size_t i = 0; i < load.size(); ++i) {
    if (i == k) continue;
    rest += (rule.of[i] - limit * rule.to[i]) * static_cast<double>(load[i].mass_mg) / mg_per_g;
  }
  const double slope = rule.of[k] - limit * rule.to[k];
  const double size = std::abs(rule.of[k]) + std::abs(limit * rule.to[k]);
  if (std::abs(slope) <= rule_noise * size) return;
  const double bound = -rest / slope;
  if ((slope > 0) == rule.at_least) {
    range.from_g = std::max(range.from_g, bound);
  } else {
    range.to_g = std::min(range.to_g, bound);
  }
}

/// Inwards to what the balance reads.
void round_inwards(MassRange& range, const Weighing& weighing) {
  const double digit = static_cast<double>(weighing.readability_mg) / mg_per_g;
  range.from_g = std::ceil(range.from_g / digit - rule_noise) * digit;
  if (std::isfinite(range.to_g)) range.to_g = std::floor(range.to_g / digit + rule_noise) * digit;
}

}  // namespace

std::vector<LoadRule> load_rules(const Scenario& scenario, const TreatmentPlan& plan,
                                 const std::vector<StockMix>& mixes, bool recipe) {
  const double rate = rate_on_plots(plan);
  const double job = scenario.basis() == Basis::per_hectare ? rate : per_tonne;
  Contents contents = contents_of(scenario, plan.weighings, mixes);
  add_sprays(scenario, plan, mixes, contents);
  const auto planned = sums_of(scenario, contents, rate);
  Sides sides = sides_of(planned, recipe);
  for (const auto& weighing : plan.weighings) {
    Contents more = contents;  // by one kg of this weighing: the sums are linear
    add_contents(scenario, weighing, 1, mixes, more);
    const auto then = sums_of(scenario, more, rate);
    if (then.size() != planned.size()) return {};
    for (std::size_t r = 0; r < sides.rules.size(); ++r) {
      const std::size_t i = sides.measured[r];
      const rules::Rule& rule = planned[i].rule;
      const bool by_itself = stands_by_itself(rule);
      sides.rules[r].of.push_back((then[i].of - planned[i].of) * rule.scale() *
                                  (by_itself ? job : 1));
      sides.rules[r].to.push_back(by_itself ? 1 : then[i].against - planned[i].against);
    }
  }
  return std::move(sides.rules);
}

std::vector<MassRange> mass_ranges(const std::vector<LoadRule>& rules,
                                   const std::vector<Weighing>& load) {
  std::vector<MassRange> ranges;
  for (std::size_t k = 0; k < load.size(); ++k) {
    MassRange range{0, std::numeric_limits<double>::infinity()};
    for (const auto& rule : rules) {
      if (!rule.unless_none) narrow(range, rule, load, k);
    }
    round_inwards(range, load[k]);
    const double planned = static_cast<double>(load[k].mass_mg) / mg_per_g;
    if (planned < range.from_g - rule_noise || planned > range.to_g + rule_noise) return {};
    ranges.push_back(range);
  }
  return ranges;
}

}  // namespace leastwise::trial

#include "trial/achieved.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double noise = 1e-9;  // relative; far below any balance

double dot(const std::vector<double>& percents, const std::vector<double>& kg,
           const std::vector<double>* reach = nullptr) {
  double sum = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    sum += percents[i] / 100 * kg[i] * (reach != nullptr ? (*reach)[i] : 1);
  }
  return sum;
}

/// The worst that half a digit on every balance does to a nutrient, in percent of what is there.
double readability_percent(const Scenario& scenario, const Reported& nutrient,
                           const std::vector<Weighing>& load) {
  double all = 0;
  double half_digits = 0;
  for (const auto& weighing : load) {
    const auto i = scenario.index_of(weighing.material);
    if (weighing.role == Role::binder || !i) continue;
    const double share = nutrient.content_percent[*i];
    all += share * weighing.target_g * mg_per_g;
    half_digits += share * static_cast<double>(weighing.readability_mg) / 2;
  }
  return all > 0 ? 100 * half_digits / all : 0;
}

/// Collects rules and judges each.
class Rules {
 public:
  void add(RuleId id, const Limits& limits, double at_min, double at_max) {
    if (limits.exact()) {
      const double miss = std::max(limits.min - at_min, at_max - limits.max);
      const double value = limits.min - at_min > at_max - limits.max ? at_min : at_max;
      id.side = RuleSide::exactly;
      judge(id, limits.min, value, miss);
      return;
    }
    id.side = RuleSide::min;
    if (limits.has_min()) judge(id, limits.min, at_min, limits.min - at_min);
    id.side = RuleSide::max;
    if (limits.has_max()) judge(id, limits.max, at_max, at_max - limits.max);
  }

  [[nodiscard]] std::vector<RuleCheck> take() { return std::move(checks_); }

 private:
  void judge(const RuleId& id, double limit, double value, double miss) {
    RuleCheck check{to_string(id), id, limit, value, limit_unit(id.kind), 0, Verdict::holds};
    const double size = std::abs(limit);
    if (miss > noise * std::max(size, noise)) {
      check.missed_percent = size > 0 ? 100 * miss / size : 100;
      check.verdict = check.missed_percent <= 1 ? Verdict::within_one_percent : Verdict::broken;
    }
    checks_.push_back(std::move(check));
  }

  std::vector<RuleCheck> checks_{};
};

double granules_kg(const Scenario& scenario, const Contents& contents) {
  double sum = 0;
  for (std::size_t i = 0; i < contents.kg.size(); ++i) {
    if (role_of(scenario.materials()[i]) == Role::granule) sum += contents.kg[i];
  }
  return sum;
}

}  // namespace

double Contents::total_kg() const { return std::accumulate(kg.begin(), kg.end(), binder_kg); }

Contents contents_of(const Scenario& scenario, const std::vector<Weighing>& load) {
  Contents contents;
  contents.kg.assign(scenario.materials().size(), 0);
  for (const auto& weighing : load) {
    const double kg = static_cast<double>(weighing.mass_mg) / mg_per_kg;
    if (weighing.role == Role::binder) {
      contents.binder_kg += kg;
    } else if (const auto i = scenario.index_of(weighing.material)) {
      contents.kg[*i] += kg;
    }
  }
  return contents;
}

std::vector<NutrientCheck> nutrient_checks(const Scenario& scenario, const Product& product,
                                           const Contents& contents, double product_kg_per_ha,
                                           const std::vector<Weighing>& load) {
  const double total = contents.total_kg();
  std::vector<NutrientCheck> checks;
  for (const auto& nutrient : scenario.reported()) {
    NutrientCheck check;
    check.nutrient = nutrient.nutrient;
    check.planned_kg_per_ha = dot(nutrient.content_percent, product.kg_per_ha);
    if (total > 0) {
      check.achieved_kg_per_ha =
          dot(nutrient.content_percent, contents.kg) / total * product_kg_per_ha;
    }
    for (const auto& rate : scenario.rates()) {
      if (rate.nutrient == nutrient.nutrient) check.rate_kg_per_ha = rate.limits;
    }
    const bool there = check.planned_kg_per_ha > 0 || check.achieved_kg_per_ha > 0;
    if (!there && check.rate_kg_per_ha == Limits{}) continue;
    if (check.planned_kg_per_ha > 0) {
      check.deviation_percent =
          100 * (check.achieved_kg_per_ha - check.planned_kg_per_ha) / check.planned_kg_per_ha;
    } else if (check.achieved_kg_per_ha > 0) {
      check.deviation_percent = 100;
    }
    check.readability_percent = readability_percent(scenario, nutrient, load);
    checks.push_back(std::move(check));
  }
  return checks;
}

std::vector<RuleCheck> rule_checks(const Scenario& scenario, const Contents& contents,
                                   double product_kg_per_ha, bool recipe) {
  const double total = contents.total_kg();
  if (total <= 0) return {};
  Rules rules;
  if (!recipe) {
    const double per_ha = product_kg_per_ha / total;
    for (const auto& rate : scenario.rates()) {
      rules.add({RuleKind::rate, rate.nutrient, {}, {}}, rate.limits,
                dot(rate.content_percent, contents.kg, &rate.reach) * per_ha,
                dot(rate.content_percent, contents.kg) * per_ha);
    }
    for (const auto& grade : scenario.grades()) {
      const double percent = 100 * dot(grade.content_percent, contents.kg) / total;
      rules.add({RuleKind::grade, grade.nutrient, {}, {}}, grade.limits, percent, percent);
    }
    for (const auto& ratio : scenario.ratios()) {
      const double to = dot(ratio.to_percent, contents.kg);
      if (to <= 0) continue;
      const double value = dot(ratio.of_percent, contents.kg) / to;
      rules.add({RuleKind::ratio, ratio.of, ratio.to, {}}, ratio.limits, value, value);
    }
    for (std::size_t i = 0; i < contents.kg.size(); ++i) {
      const Material& material = scenario.materials()[i];
      const double percent = 100 * contents.kg[i] / total;
      rules.add({RuleKind::share, material.name, {}, {}}, material.share_percent, percent, percent);
      if (contents.kg[i] > 0 && material.min_if_used_percent > 0) {
        const Limits least{material.min_if_used_percent};
        rules.add({RuleKind::minimum_if_used, material.name, {}, {}}, least, percent, percent);
      }
    }
  }
  const double granules = granules_kg(scenario, contents);
  if (granules > 0 && total - granules > 0) {
    const double percent = 100 * (total - granules) / granules;
    Limits most;
    most.max = scenario.coating_max_percent();
    rules.add({.kind = RuleKind::coating}, most, percent, percent);
  }
  return rules.take();
}

Verdict worst(const std::vector<RuleCheck>& rules) {
  Verdict verdict = Verdict::holds;
  for (const auto& rule : rules) verdict = std::max(verdict, rule.verdict);
  return verdict;
}

}  // namespace leastwise::trial

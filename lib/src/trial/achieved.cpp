#include "trial/achieved.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "scenario/units.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double noise = 1e-9;  // relative; far below any balance

double dot(const std::vector<double>& percents, const std::vector<double>& kg) {
  double sum = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) sum += percents[i] / 100 * kg[i];
  return sum;
}

/// The worst that half a digit on every balance does to a nutrient, in percent of what is there.
double readability_percent(const Scenario& scenario, const Reported& nutrient,
                           const std::vector<Weighing>& load, const std::vector<StockMix>& mixes) {
  double all = 0;
  double half_digits = 0;
  for (const auto& weighing : load) {
    Contents one;
    one.kg.assign(scenario.materials().size(), 0);
    add_contents(scenario, weighing, 1, mixes, one);
    const double share = 100 * dot(nutrient.content_percent, one.kg);
    all += share * weighing.target_g * mg_per_g;
    half_digits += share * static_cast<double>(weighing.readability_mg) / 2;
  }
  return all > 0 ? 100 * half_digits / all : 0;
}

/// Whether a rule says anything of the load to somebody who mixes it. Guards and families kept
/// apart, of which a catalogue brings many, do where they do not hold; a ratio and the coating do
/// where there is something to measure.
bool is_told(const rules::Achieved& achieved) {
  const RuleKind kind = achieved.rule.id.kind;
  if (rules::is_guard(kind) || kind == RuleKind::exclusion) return achieved.shortfall() > 0;
  if (kind == RuleKind::coating) return achieved.of > 0;
  return achieved.of > 0 || achieved.against > 0;
}

RuleCheck judged(const rules::Achieved& achieved) {
  const RuleId& id = achieved.rule.id;
  RuleCheck check;
  check.rule = to_string(id);
  check.id = id;
  check.limit = achieved.rule.limit;
  check.value = achieved.value();
  check.unit = limit_unit(id);
  check.confidence = achieved.rule.of.confidence;
  check.verdict = Verdict::holds;
  const double needed = std::abs(achieved.needed());
  const double missing = achieved.shortfall();
  if (!(missing > noise * std::max(needed, noise))) return check;
  check.missed_percent = needed > 0 ? 100 * missing / needed : 100;
  const bool nearly = achieved.rule.is_linear() && check.missed_percent <= 1;
  check.verdict = nearly ? Verdict::within_one_percent : Verdict::broken;
  return check;
}

/// Rules of what a field gets, whatever brings it.
bool is_of_the_field(RuleKind kind) {
  return kind == RuleKind::rate || kind == RuleKind::ratio || kind == RuleKind::exclusion ||
         rules::is_guard(kind);
}

/// The halves of an `exactly` that count differently are one rule.
bool is_same_rule(const rules::Achieved& a, const rules::Achieved& b) {
  return a.rule.id == b.rule.id && a.rule.index == b.rule.index;
}

}  // namespace

std::vector<rules::Achieved> measured_with_sprays(const Scenario& scenario,
                                                  const rules::Amounts& amounts,
                                                  const std::vector<double>& sprayed_kg) {
  auto product = rules::measure(scenario, amounts);
  if (sprayed_kg.empty()) return product;
  std::vector<double> all(amounts.kg.begin(), amounts.kg.end());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] += sprayed_kg[i];
  std::vector<rules::Achieved> merged;
  for (auto& field : rules::measure(scenario, {all, amounts.binder_kg})) {
    if (is_of_the_field(field.rule.id.kind)) {
      merged.push_back(std::move(field));
      continue;
    }
    const auto same = std::ranges::find_if(product, [&](const rules::Achieved& achieved) {
      return achieved.rule.id == field.rule.id && achieved.rule.side == field.rule.side &&
             achieved.rule.index == field.rule.index;
    });
    if (same != product.end()) merged.push_back(*same);
  }
  return merged;
}

double Contents::total_kg() const {
  return std::accumulate(kg.begin(), kg.end(), binder_kg + inert_kg);
}

void add_contents(const Scenario& scenario, const Weighing& weighing, double kg,
                  const std::vector<StockMix>& mixes, Contents& contents) {
  const auto add = [&](const std::string& material, double amount) {
    if (const auto i = scenario.index_of(material)) {
      contents.kg[*i] += amount;
    } else {
      contents.inert_kg += amount;
    }
  };
  if (weighing.role == Role::binder) {
    contents.binder_kg += kg;
  } else if (weighing.mix) {
    for (const auto& part : mixes[*weighing.mix].parts) add(part.material, kg * part.fraction);
  } else {
    add(weighing.material, kg);
  }
}

Contents contents_of(const Scenario& scenario, const std::vector<Weighing>& load,
                     const std::vector<StockMix>& mixes) {
  Contents contents;
  contents.kg.assign(scenario.materials().size(), 0);
  for (const auto& weighing : load)
    add_contents(scenario, weighing, static_cast<double>(weighing.mass_mg) / mg_per_kg, mixes,
                 contents);
  return contents;
}

std::vector<NutrientCheck> nutrient_checks(const Scenario& scenario, const Product& product,
                                           const Contents& contents, double product_kg_per_ha,
                                           const std::vector<Weighing>& load,
                                           const std::vector<StockMix>& mixes) {
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
    if (!contents.sprayed_kg_per_ha.empty()) {
      check.sprayed_kg_per_ha = dot(nutrient.content_percent, contents.sprayed_kg_per_ha);
      check.achieved_kg_per_ha += check.sprayed_kg_per_ha;
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
    check.readability_percent = readability_percent(scenario, nutrient, load, mixes);
    checks.push_back(std::move(check));
  }
  return checks;
}

std::vector<RuleCheck> rule_checks(const Scenario& scenario, const Contents& contents,
                                   double product_kg_per_ha, bool recipe) {
  const double total = contents.total_kg();
  if (total <= 0) return {};
  const double per_kg =
      (scenario.basis() == Basis::per_hectare ? product_kg_per_ha : kg_per_tonne) / total;
  std::vector<double> amounts = contents.kg;
  for (double& kg : amounts) kg *= per_kg;
  // A carrier of no material lies on the granules as the binder does, and holds no nutrient.
  const double on_granules = (contents.binder_kg + contents.inert_kg) * per_kg;
  auto sprayed = contents.sprayed_kg_per_ha;
  if (scenario.basis() != Basis::per_hectare) sprayed.clear();
  auto measured = measured_with_sprays(scenario, {amounts, on_granules}, sprayed);
  std::erase_if(measured, [&](const rules::Achieved& achieved) {
    return !is_told(achieved) || (recipe && achieved.rule.id.kind != RuleKind::coating);
  });
  std::vector<RuleCheck> checks;
  for (std::size_t k = 0; k < measured.size(); ++k) {
    const auto& achieved = measured[k];
    const bool halved = k > 0 && is_same_rule(measured[k - 1], achieved);
    if (!halved)
      checks.push_back(judged(achieved));
    else if (achieved.shortfall() > measured[k - 1].shortfall())
      checks.back() = judged(achieved);
  }
  return checks;
}

Verdict worst(const std::vector<RuleCheck>& rules) {
  Verdict verdict = Verdict::holds;
  for (const auto& rule : rules) verdict = std::max(verdict, rule.verdict);
  return verdict;
}

}  // namespace leastwise::trial

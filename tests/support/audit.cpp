#include "support/audit.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <sstream>

namespace leastwise::support {
namespace {

/// An amount this far below the total does not count as use.
constexpr double trace = 1e-9;

void note(Audit& audit, double violation, const std::string& rule) {
  if (violation > audit.worst_violation) {
    audit.worst_violation = violation;
    audit.worst_rule = rule;
  }
}

void audit_either_or(const Reading& reading, const std::vector<double>& x, double total,
                     Audit& audit) {
  const auto used = [&](std::size_t i) { return x[i] > trace * total; };
  for (const Apart& apart : reading.apart) {
    double first = 0, second = 0;
    for (const std::size_t i : apart.first) first += std::max(0.0, x[i]);
    for (const std::size_t i : apart.second) second += std::max(0.0, x[i]);
    if (std::min(first, second) > trace * total)
      note(audit, std::min(first, second) / total, to_string(apart.id));
  }
  int granules = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!used(i)) continue;
    granules += reading.granule[i] ? 1 : 0;
    const double least = reading.minimum_if_used[i] * total;
    if (least > 0) note(audit, (least - x[i]) / least, "min if used " + reading.material[i]);
  }
  if (reading.bins > 0 && granules > reading.bins) note(audit, 1, "bins");
}

class Cross {
 public:
  Cross(const Scenario& scenario, const Blend& blend) : scenario_(scenario), blend_(blend) {}

  std::vector<std::string> found() {
    const Reading reading = read(scenario_);
    const std::vector<double> x = amounts_of(scenario_, blend_);
    const Audit rules = audit(reading, x);
    if (!rules.passes()) say(rules.worst_rule + " violated", rules.worst_violation, 0);
    agree("cost", cost_of(blend_), rules.cost);
    const double total = reading.total(x);
    const bool per_hectare = scenario_.basis() == Basis::per_hectare;
    const double per_t = 1000 / total;
    agree("cost per t", blend_.cost_per_t, rules.cost * per_t);
    if (per_hectare != blend_.total_kg_per_ha.has_value() ||
        per_hectare != blend_.cost_per_ha.has_value())
      say("per-hectare figures present", !per_hectare, per_hectare);
    if (per_hectare && blend_.total_kg_per_ha) agree("total", *blend_.total_kg_per_ha, total);
    if (!per_hectare) agree("total", total, 1000);
    check_portions(x, per_t);
    check_breakdown(x, per_t);
    check_supply(reading, x, total);
    return said_;
  }

 private:
  void say(const std::string& what, double got, double expected) {
    std::ostringstream text;
    text.precision(12);
    text << what << ": " << got << ", expected " << expected;
    said_.push_back(text.str());
  }
  void agree(const std::string& what, double got, double expected, double size = 0) {
    const double scale = std::max({std::fabs(expected), size, 1e-6});
    if (!(std::fabs(got - expected) <= 1e-8 * scale)) say(what, got, expected);
  }

  void check_portions(const std::vector<double>& x, double per_t) {
    double previous = std::numeric_limits<double>::infinity();
    for (const Portion& portion : blend_.portions) {
      const auto i = *scenario_.index_of(portion.material);
      const Material& material = scenario_.materials()[i];
      agree("kg per t of " + portion.material, portion.kg_per_t, x[i] * per_t, 1e-3);
      const double price = (material.price_per_t + material.freight_per_t) / 1000;
      agree("cost of " + portion.material, portion.cost_per_t, price * portion.kg_per_t);
      if (portion.form != material.form_used()) say("form of " + portion.material, 0, 1);
      if (portion.kg_per_t > previous * (1 + 1e-12)) say("portions not largest first", 0, 1);
      previous = portion.kg_per_t;
    }
  }

  void check_breakdown(const std::vector<double>& x, double per_t) {
    double materials = 0, freight = 0, powder = 0, total = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const Material& material = scenario_.materials()[i];
      materials += material.price_per_t / 1000 * x[i] * per_t;
      freight += material.freight_per_t / 1000 * x[i] * per_t;
      if (material.form_used() == Form::powder) powder += x[i] * per_t;
    }
    const double binder = powder * scenario_.binder().percent_of_powder / 100;
    const CostBreakdown& parts = blend_.breakdown;
    total = parts.materials_per_t + parts.freight_per_t + parts.binder_per_t + parts.blending_per_t;
    const double size = std::fabs(parts.materials_per_t) + 1;
    agree("materials per t", parts.materials_per_t, materials, size);
    agree("freight per t", parts.freight_per_t, freight, size);
    agree("binder cost per t", parts.binder_per_t, binder * scenario_.binder().price_per_t / 1000,
          size);
    agree("blending per t", parts.blending_per_t, scenario_.blending_fee_per_t(), size);
    agree("sum of the breakdown", total, blend_.cost_per_t, size);
    agree("binder kg per t", blend_.binder.kg_per_t, binder, 1);
  }

  void check_supply(const Reading& reading, const std::vector<double>& x, double total) {
    for (const Supply& supply : blend_.supply) {
      double kg = 0;
      for (std::size_t i = 0; i < x.size(); ++i)
        kg += x[i] * content_percent(scenario_.materials()[i], supply.nutrient) / 100;
      agree("percent of " + supply.nutrient, supply.percent, kg / total * 100, 1e-2);
      if (supply.kg_per_ha) agree("supply of " + supply.nutrient, *supply.kg_per_ha, kg, 1e-2);
      for (const LinearRule& rule : reading.rules) {
        const RuleId asked{RuleKind::rate, supply.nutrient, {}, RuleSide::min};
        if (rule.id != asked || !supply.effective_kg_per_ha) continue;
        double reached = 0;
        for (std::size_t i = 0; i < x.size(); ++i) reached += rule.coefficient[i] * x[i];
        agree("effective " + supply.nutrient, *supply.effective_kg_per_ha, reached, 1e-2);
      }
    }
  }

  const Scenario& scenario_;
  const Blend& blend_;
  std::vector<std::string> said_;
};

}  // namespace

Audit audit(const Reading& reading, const std::vector<double>& amounts) {
  Audit result;
  const double total = reading.total(amounts);
  result.cost = reading.cost(amounts);
  for (std::size_t i = 0; i < amounts.size(); ++i) {
    note(result, -amounts[i] / std::max(total, 1e-9), "negative " + reading.material[i]);
    if (!reading.enters[i] && amounts[i] > 0) note(result, 1, "form of " + reading.material[i]);
  }
  for (const LinearRule& rule : reading.rules) {
    double sum = 0, size = 0;
    for (std::size_t i = 0; i < amounts.size(); ++i) {
      sum += rule.coefficient[i] * amounts[i];
      size += std::fabs(rule.coefficient[i] * amounts[i]);
    }
    for (const double limit : {rule.lower, rule.upper})
      if (std::isfinite(limit)) size = std::max(size, std::fabs(limit));
    if (size == 0) continue;
    note(result, (rule.lower - sum) / size, to_string(rule.id));
    note(result, (sum - rule.upper) / size, to_string(rule.id));
  }
  audit_either_or(reading, amounts, std::max(total, 1e-9), result);
  return result;
}

std::vector<double> amounts_of(const Scenario& scenario, const Blend& blend) {
  std::vector<double> x(scenario.materials().size(), 0.0);
  for (const Portion& portion : blend.portions) {
    const double amount =
        scenario.basis() == Basis::per_hectare ? portion.kg_per_ha.value() : portion.kg_per_t;
    x.at(scenario.index_of(portion.material).value()) += amount;
  }
  return x;
}

double cost_of(const Blend& blend) {
  return blend.basis == Basis::per_hectare ? blend.cost_per_ha.value() : blend.cost_per_t;
}

std::vector<std::string> contradictions(const Scenario& scenario, const Blend& blend) {
  return Cross(scenario, blend).found();
}

}  // namespace leastwise::support

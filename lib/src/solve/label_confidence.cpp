#include "solve/label_confidence.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/numeric/normal_quantile.hpp"
#include "base/text/wording.hpp"
#include "scenario/rules.hpp"

namespace leastwise::solve {
namespace {

double probability(double room, double deviation) {
  if (deviation > 0) return normal_share_below(room / deviation);
  return room >= -1e-9 ? 1 : 0;
}

/// How sure one limit is, which has a confidence.
LimitConfidence confidence_of(const rules::Rule& rule, const std::vector<double>& kg,
                              double total) {
  const auto& content = rule.of;
  const double z = std::max(normal_quantile(*content.confidence), 0.0);
  const double whole = rule.against.counts == rules::Counts::product ? total / rule.parts : 1;
  LimitConfidence sure;
  sure.id = rule.id;
  sure.rule = to_string(sure.id);
  sure.limit = rule.limit;
  sure.asked = *content.confidence;
  double squares = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    const double reach = content.availability.empty() ? 1 : content.availability[i];
    const double amount = kg[i] * reach / 100 / whole;
    const double deviation = z > 0 ? content.margin_percent[i] / z * amount : 0;
    sure.expected += content.percent[i] * amount;
    sure.deviation_together += deviation;
    squares += deviation * deviation;
  }
  sure.deviation_independent = std::sqrt(squares);
  const double room =
      rule.side == RuleSide::max ? rule.limit - sure.expected : sure.expected - rule.limit;
  sure.probability_together = probability(room, sure.deviation_together);
  sure.probability_independent = probability(room, sure.deviation_independent);
  return sure;
}

std::string percent_text(double probability) {
  // Never more certain than it is: 99.996 % must not read as 100 %.
  return rounded_text(std::floor(probability * 1e4 + 1e-6) / 100) + " %";
}

}  // namespace

std::vector<LimitConfidence> limit_confidences(const Scenario& scenario,
                                               const std::vector<double>& kg, double total) {
  std::vector<LimitConfidence> list;
  for (const auto& rule : rules::rules_of(scenario))
    if (rule.of.confidence) list.push_back(confidence_of(rule, kg, total));
  return list;
}

void add_confidence_notes(const Scenario& scenario, const std::vector<double>& kg, double total,
                          std::vector<Note>& notes) {
  for (const auto& sure : limit_confidences(scenario, kg, total)) {
    const std::string unit = " " + std::string(to_string(limit_unit(sure.id)));
    notes.push_back({NoteLevel::info,
                     NoteCode::confidence_of_limit,
                     {sure.rule},
                     sure.rule + " " + rounded_text(sure.limit) + unit + " holds in at least " +
                         percent_text(sure.probability_together) +
                         " of lots however the analyses go together, in " +
                         percent_text(sure.probability_independent) +
                         " when each is off by itself; on average the product holds " +
                         rounded_text(sure.expected) + unit});
  }
}

}  // namespace leastwise::solve

namespace leastwise {

std::vector<LimitConfidence> limit_confidences(const Scenario& scenario, const Blend& blend) {
  std::vector<double> kg(scenario.materials().size(), 0.0);
  for (const auto& portion : blend.portions)
    if (const auto i = scenario.index_of(portion.material))
      kg[*i] = portion.kg_per_ha.value_or(portion.kg_per_t);
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) total += scenario.mass_factor(i) * kg[i];
  return solve::limit_confidences(scenario, kg, total);
}

}  // namespace leastwise

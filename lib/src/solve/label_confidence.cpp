#include "solve/label_confidence.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/numeric/normal_quantile.hpp"
#include "base/text/wording.hpp"

namespace leastwise::insight {
namespace {

/// Adds the limits of one target.
class TargetConfidence {
 public:
  TargetConfidence(const Target& target, RuleKind kind, const std::vector<double>& kg, double total)
      : target_(target), kind_(kind), kg_(kg), total_(total) {
    z_ = std::max(normal_quantile(*target.confidence), 0.0);
  }

  void add(bool is_maximum, std::vector<LimitConfidence>& list) const {
    const bool grade = kind_ == RuleKind::grade;
    const double limit = is_maximum ? target_.limits.max : target_.limits.min;
    const double whole = grade ? total_ / 100 : 1;
    LimitConfidence sure;
    sure.id = {kind_, target_.nutrient, {}, is_maximum ? RuleSide::max : RuleSide::min};
    sure.rule = to_string(sure.id);
    sure.limit = limit;
    sure.asked = *target_.confidence;
    double squares = 0;
    for (std::size_t i = 0; i < kg_.size(); ++i) {
      // Only a minimum rate counts micronutrient granules in part.
      const double reach = !grade && !is_maximum ? target_.reach[i] : 1;
      const double amount = kg_[i] * reach / 100 / whole;
      const double deviation = z_ > 0 ? target_.margin_percent[i] / z_ * amount : 0;
      sure.expected += target_.content_percent[i] * amount;
      sure.deviation_together += deviation;
      squares += deviation * deviation;
    }
    sure.deviation_independent = std::sqrt(squares);
    const double room = is_maximum ? limit - sure.expected : sure.expected - limit;
    sure.probability_together = probability(room, sure.deviation_together);
    sure.probability_independent = probability(room, sure.deviation_independent);
    list.push_back(std::move(sure));
  }

 private:
  [[nodiscard]] static double probability(double room, double deviation) {
    if (deviation > 0) return normal_share_below(room / deviation);
    return room >= -1e-9 ? 1 : 0;
  }

  const Target& target_;
  RuleKind kind_;
  const std::vector<double>& kg_;
  double total_;
  double z_ = 0;
};

std::string percent_text(double probability) {
  // Never more certain than it is: 99.996 % must not read as 100 %.
  return rounded_text(std::floor(probability * 1e4 + 1e-6) / 100) + " %";
}

}  // namespace

std::vector<LimitConfidence> limit_confidences(const Scenario& scenario,
                                               const std::vector<double>& kg, double total) {
  std::vector<LimitConfidence> list;
  const auto add_all = [&](std::span<const Target> targets, RuleKind kind) {
    for (const auto& target : targets) {
      if (!target.confidence || target.margin_percent.empty()) continue;
      const TargetConfidence confidence(target, kind, kg, total);
      if (target.limits.has_min()) confidence.add(false, list);
      if (target.limits.has_max()) confidence.add(true, list);
    }
  };
  add_all(scenario.rates(), RuleKind::rate);
  add_all(scenario.grades(), RuleKind::grade);
  return list;
}

void add_confidence_notes(const Scenario& scenario, const std::vector<double>& kg, double total,
                          std::vector<Note>& notes) {
  for (const auto& sure : limit_confidences(scenario, kg, total)) {
    const std::string unit = " " + std::string(to_string(limit_unit(sure.id.kind)));
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

}  // namespace leastwise::insight

namespace leastwise {

std::vector<LimitConfidence> limit_confidences(const Scenario& scenario, const Blend& blend) {
  std::vector<double> kg(scenario.materials().size(), 0.0);
  for (const auto& portion : blend.portions)
    if (const auto i = scenario.index_of(portion.material))
      kg[*i] = portion.kg_per_ha.value_or(portion.kg_per_t);
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) total += scenario.mass_factor(i) * kg[i];
  return insight::limit_confidences(scenario, kg, total);
}

}  // namespace leastwise

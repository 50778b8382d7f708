#include <algorithm>
#include <cmath>
#include <numeric>

#include "scenario/rule_terms.hpp"

namespace leastwise::rules {
namespace {

/// Counts what is in one blend.
class Counter {
 public:
  Counter(const Scenario& scenario, const Amounts& amounts)
      : scenario_(scenario), numbers_(scenario), amounts_(amounts) {
    for (const double kg : amounts.kg) largest_ = std::max(largest_, kg);
  }

  /// Whether `rule` says anything of the blend.
  [[nodiscard]] bool applies(const Rule& rule) const {
    return !rule.if_used || in_use(rule.of.material);
  }

  [[nodiscard]] Achieved achieved(const Rule& rule) {
    Terms terms(numbers_, rule);
    Achieved result{rule, count(rule.of, [&](std::size_t i) { return terms.of(i); })};
    if (rule.against.counts != Counts::nothing)
      result.against = count(rule.against, [&](std::size_t i) { return terms.against(i); });
    return result;
  }

 private:
  static constexpr double trace = 1e-9;  // of the largest amount; rounding may leave as much

  [[nodiscard]] bool in_use(std::size_t i) const { return amounts_.kg[i] > trace * largest_; }

  /// Sums up what `per_kg` says of each material, or counts what is in use.
  template <class PerKg>
  [[nodiscard]] double count(const Quantity& quantity, PerKg per_kg) const {
    switch (quantity.counts) {
      case Counts::bins:
        return granular_in_use();
      case Counts::families:
        return in_use(quantity.family_a) + in_use(quantity.family_b);
      case Counts::product:
      case Counts::powders:
        if (amounts_.binder_kg) return weighed(quantity.counts);
        break;
      case Counts::nothing:
      case Counts::content:
      case Counts::material:
      case Counts::granules:
        break;
    }
    double sum = 0;
    for (std::size_t i = 0; i < amounts_.kg.size(); ++i) sum += per_kg(i) * amounts_.kg[i];
    return sum;
  }

  [[nodiscard]] double weighed(Counts counts) const {
    double sum = *amounts_.binder_kg;
    for (std::size_t i = 0; i < amounts_.kg.size(); ++i)
      if (counts == Counts::product || !is_granule(i)) sum += amounts_.kg[i];
    return sum;
  }
  [[nodiscard]] bool is_granule(std::size_t i) const {
    return scenario_.materials()[i].form_used() == Form::granule;
  }
  [[nodiscard]] int granular_in_use() const {
    int count = 0;
    for (std::size_t i = 0; i < amounts_.kg.size(); ++i) count += is_granule(i) && in_use(i);
    return count;
  }
  [[nodiscard]] int in_use(std::string_view family) const {
    for (std::size_t i = 0; i < amounts_.kg.size(); ++i)
      if (scenario_.materials()[i].family == family && in_use(i)) return 1;
    return 0;
  }

  const Scenario& scenario_;
  Doubles numbers_;
  const Amounts& amounts_;
  double largest_ = 0;
};

}  // namespace

double Achieved::shortfall() const {
  const double missing = needed() - of;
  if (rule.side == RuleSide::exactly) return std::fabs(missing);
  return rule.side == RuleSide::min ? missing : -missing;
}

double Achieved::relative_shortfall() const {
  const double size = std::max(std::fabs(of), std::fabs(needed()));
  return size > 0 ? shortfall() / size : shortfall();
}

std::vector<Achieved> measure(const Scenario& scenario, const Amounts& amounts) {
  return measure(scenario, rules_of(scenario), amounts);
}

std::vector<Achieved> measure(const Scenario& scenario, std::span<const Rule> rules,
                              const Amounts& amounts) {
  std::vector<Achieved> list;
  Counter counter(scenario, amounts);
  for (const Rule& rule : rules)
    if (counter.applies(rule)) list.push_back(counter.achieved(rule));
  return list;
}

}  // namespace leastwise::rules

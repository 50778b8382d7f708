#pragma once
#include <cmath>
#include <cstddef>

#include "scenario/rules.hpp"

namespace leastwise::rules {

/// `value`, a difference of terms of `size`, or zero where only rounding is left of it: a material
/// that has exactly the ratio asked for weighs nothing in that row.
[[nodiscard]] inline double without_rounding(double value, double size) {
  return std::fabs(value) <= 1e-14 * std::fabs(size) ? 0 : value;
}

/// The numbers of a scenario as doubles, for `Terms`.
class Doubles {
 public:
  using Number = double;
  explicit Doubles(const Scenario& scenario) : scenario_(scenario) {}

  [[nodiscard]] const Scenario& scenario() const { return scenario_; }
  [[nodiscard]] static double number(double value) { return value; }
  [[nodiscard]] static double limit(const Rule& rule) { return rule.limit; }
  [[nodiscard]] static double make(const Rule& rule) { return rule.make; }
  [[nodiscard]] static double percent(const Quantity& content, std::size_t i) {
    return content.percent[i];
  }
  [[nodiscard]] static double availability(const Quantity& content, std::size_t i) {
    return content.availability[i];
  }
  [[nodiscard]] double mass(std::size_t i) const { return scenario_.mass_factor(i); }
  [[nodiscard]] static double difference(double a, double b) {
    return without_rounding(a - b, std::fabs(a) + std::fabs(b));
  }

 private:
  const Scenario& scenario_;
};

/// What each kg of a material counts for in a linear rule, in any kind of number: `Numbers` says
/// where these come from.
template <class Numbers>
class Terms {
 public:
  using Number = typename Numbers::Number;

  Terms(Numbers& numbers, const Rule& rule)
      : numbers_(numbers),
        rule_(rule),
        scale_(numbers.number(rule.parts) * numbers.make(rule)),
        limit_(numbers.limit(rule) / scale_) {}

  /// The limit in parts of what the rule is measured against.
  [[nodiscard]] const Number& limit() const { return limit_; }
  /// What the limit in parts moves by with each unit of the limit.
  [[nodiscard]] Number limit_rate() const { return 1 / scale_; }
  /// Whether each material weighs in what the rule is measured against.
  [[nodiscard]] bool is_ratio() const { return rule_.is_ratio(); }

  /// kg of what is limited, in a kg of material `i`.
  [[nodiscard]] Number of(std::size_t i) {
    const Number whole = raw(rule_.of, i) / unit(rule_.of);
    return rule_.of.availability.empty() ? whole
                                         : Number(whole * numbers_.availability(rule_.of, i));
  }
  /// kg of what it is measured against, in a kg of material `i`.
  [[nodiscard]] Number against(std::size_t i) {
    return raw(rule_.against, i) / unit(rule_.against);
  }
  /// Of a ratio: what is limited less the limit times what it is measured against. Divided last, so
  /// that equal contents leave nothing.
  [[nodiscard]] Number balance(std::size_t i) {
    return numbers_.difference(raw(rule_.of, i), limit_ * raw(rule_.against, i)) / unit(rule_.of);
  }

 private:
  /// Contents are percentages; both sides of a ratio are contents or neither is.
  [[nodiscard]] static int unit(const Quantity& quantity) {
    return quantity.counts == Counts::content ? 100 : 1;
  }

  [[nodiscard]] Number raw(const Quantity& quantity, std::size_t i) {
    const bool granule = numbers_.scenario().materials()[i].form_used() == Form::granule;
    switch (quantity.counts) {
      case Counts::product:
        return numbers_.mass(i);
      case Counts::content:
        return counted(quantity, i);
      case Counts::material:
        return i == quantity.material ? 1 : 0;
      case Counts::powders:
        return granule ? Number(0) : Number(numbers_.mass(i));
      case Counts::granules:
        return granule ? 1 : 0;
      case Counts::nothing:
      case Counts::bins:
      case Counts::families:
        break;
    }
    return 0;
  }

  /// A content, less (a minimum) or more (a maximum) what its analyses may be off by. No content is
  /// below 0.
  [[nodiscard]] Number counted(const Quantity& content, std::size_t i) {
    const Number percent = numbers_.percent(content, i);
    if (content.margin_percent.empty() || rule_.side == RuleSide::exactly) return percent;
    const Number margin = numbers_.number(content.margin_percent[i]);
    if (rule_.side == RuleSide::max) return percent + margin;
    return percent > margin ? Number(percent - margin) : Number(0);
  }

  Numbers& numbers_;
  const Rule& rule_;
  Number scale_;
  Number limit_;
};

}  // namespace leastwise::rules

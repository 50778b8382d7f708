#include "proof/exact_rows.hpp"

#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <map>
#include <string_view>

#include "exact/decimal.hpp"
#include "exact/exact_contents.hpp"
#include "exact/exact_units.hpp"
#include "scenario/rule_terms.hpp"
#include "scenario/units.hpp"

namespace leastwise::proof {
namespace {

using exact::decimal;
using rules::Counts;

/// The numbers of a scenario as whole fractions, for `rules::Terms`.
class Fractions {
 public:
  using Number = Rational;
  explicit Fractions(const Scenario& scenario)
      : scenario_(scenario), beta_(decimal(scenario.binder().percent_of_powder) / 100) {
    for (std::size_t i = 0; i < scenario.materials().size(); ++i)
      contents_.push_back(scenario.materials()[i].can_enter() ? exact::contents_of(scenario, i)
                                                              : std::vector<exact::Content>{});
  }

  [[nodiscard]] const Scenario& scenario() const { return scenario_; }
  [[nodiscard]] const Rational& beta() const { return beta_; }
  [[nodiscard]] static Rational number(double value) { return decimal(value); }
  [[nodiscard]] Rational limit(const rules::Rule& rule) const {
    if (rule.id.kind == RuleKind::rate || rule.id.kind == RuleKind::total)
      return stated_(rule.limit, Measure::rate);
    return rule.id.kind == RuleKind::stock ? stated_(rule.limit, Measure::mass)
                                           : decimal(rule.limit);
  }
  /// What a stock is held against: land, or goods where it is measured against the product.
  [[nodiscard]] Rational make(const rules::Rule& rule) const {
    if (rule.id.kind != RuleKind::stock) return decimal(rule.make);
    return stated_(rule.make,
                   rule.against.counts == Counts::product ? Measure::goods : Measure::land);
  }
  [[nodiscard]] Rational price(double per_t) const { return stated_.price(per_t); }
  [[nodiscard]] static Rational difference(const Rational& a, const Rational& b) { return a - b; }
  /// Kept, for rules come in pairs.
  [[nodiscard]] const Rational& percent(const rules::Quantity& content, std::size_t i) {
    auto& known = percents_[content.name];
    if (known.empty())
      for (const auto& contents : contents_)
        known.push_back(exact::percent_of(contents, content.name));
    return known[i];
  }
  /// 1 / factor for a dedicated micronutrient granule.
  [[nodiscard]] Rational availability(const rules::Quantity& content, std::size_t i) const {
    if (content.availability[i] == 1) return 1;
    return 1 / decimal(granular_factor(scenario_.draft(), content.name));
  }
  [[nodiscard]] Rational mass(std::size_t i) const {
    return scenario_.materials()[i].form_used() == Form::granule ? Rational(1)
                                                                 : Rational(1 + beta_);
  }

 private:
  const Scenario& scenario_;
  exact::Stated stated_{scenario_.draft().units};
  Rational beta_;
  std::vector<std::vector<exact::Content>> contents_{};
  std::map<std::string_view, std::vector<Rational>> percents_{};
};

class ExactRowWriter {
 public:
  ExactRowWriter(const Scenario& scenario, const model::Model& model)
      : scenario_(scenario),
        model_(model),
        per_tonne_(model.basis == Basis::per_tonne),
        numbers_(scenario) {}

  std::vector<ExactRow> write() {
    if (per_tonne_)
      for (const RuleSide side : {RuleSide::min, RuleSide::max})
        add(
            RuleKind::total, to_string({.kind = RuleKind::total, .side = RuleSide::exactly}), side,
            [&](std::size_t i) { return numbers_.mass(i); }, kg_per_tonne)
            .model_row = model_.total_row;
    std::size_t r = 0;
    int minimum = 0;
    for (const auto& rule : rules::rules_of(scenario_)) {
      if (!rule.is_linear()) continue;
      if (rule.if_used)
        write_minimum(rule, minimum++);
      else
        write(rule, model_.rules[r++]);
    }
    return std::move(rows_);
  }

  [[nodiscard]] std::vector<Rational> costs() const {
    std::vector<Rational> costs;
    for (std::size_t j = 0; has_material(j); ++j) {
      const Material& goods = scenario_.materials()[material(j)];
      const Rational mass = numbers_.mass(material(j));
      costs.push_back((numbers_.price(goods.price_per_t) + numbers_.price(goods.freight_per_t) +
                       (mass - 1) * numbers_.price(scenario_.binder().price_per_t) +
                       mass * numbers_.price(scenario_.blending_fee_per_t())) /
                      1000);
    }
    return costs;
  }

 private:
  [[nodiscard]] bool has_material(std::size_t j) const {
    return j < model_.material_of.size() && model_.material_of[j] >= 0;
  }
  [[nodiscard]] std::size_t material(std::size_t j) const {
    return static_cast<std::size_t>(model_.material_of[j]);
  }

  template <class Coefficient>
  ExactRow& add(RuleKind kind, std::string name, RuleSide side, Coefficient coefficient,
                const Rational& limit) {
    ExactRow row;
    row.kind = kind;
    row.rule = std::move(name);
    row.is_maximum = side == RuleSide::max;
    for (std::size_t j = 0; has_material(j); ++j) {
      const Rational value = coefficient(material(j));
      if (value != 0) row.entries.emplace_back(j, row.is_maximum ? Rational(-value) : value);
    }
    row.limit = row.is_maximum ? Rational(-limit) : limit;
    rows_.push_back(std::move(row));
    return rows_.back();
  }

  /// One side of `rule` as a row over the materials.
  ExactRow& add(const rules::Rule& rule, RuleSide side) {
    rules::Terms terms(numbers_, rule);
    const bool of_product = rule.against.counts == Counts::product;
    const auto coefficient = [&](std::size_t i) -> Rational {
      if (rule.is_ratio()) return terms.balance(i);
      if (of_product && !per_tonne_) return terms.of(i) - terms.limit() * numbers_.mass(i);
      return terms.of(i);
    };
    const bool moves = rule.is_ratio() || (of_product && !per_tonne_);
    const Rational bound =
        moves ? Rational(0) : Rational(terms.limit() * (of_product ? kg_per_tonne : 1));
    return add(rule.id.kind, name(rule), side, coefficient, bound);
  }

  /// Ratios may share a name: the second is called `NAME (2)`.
  [[nodiscard]] std::string name(const rules::Rule& rule) {
    std::string own = to_string(rule.id);
    auto& positions = named_[own];
    auto place = std::ranges::find(positions, rule.index);
    if (place == positions.end()) place = positions.insert(place, rule.index);
    const auto count = place - positions.begin() + 1;
    return count > 1 ? own + " (" + std::to_string(count) + ")" : own;
  }

  void write(const rules::Rule& rule, const model::Rule& made) {
    for (const RuleSide side : {RuleSide::min, RuleSide::max}) {
      if (rule.side != side && rule.side != RuleSide::exactly) continue;
      ExactRow& row = add(rule, side);
      row.model_row = made.row;
      row.model_column = made.column;
    }
  }

  void write_minimum(const rules::Rule& rule, int k) {
    const auto& minimum = model_.minima[static_cast<std::size_t>(k)];
    ExactRow& row = add(rule, RuleSide::min);
    row.minimum = k;
    row.model_row = minimum.row;
    row.model_column = minimum.row < 0 ? minimum.column : -1;
  }

  const Scenario& scenario_;
  const model::Model& model_;
  bool per_tonne_;
  Fractions numbers_;
  std::map<std::string, std::vector<std::size_t>> named_{};  ///< which rules have a name, in order
  std::vector<ExactRow> rows_{};
};

}  // namespace

std::vector<ExactRow> exact_rows(const Scenario& scenario, const model::Model& model) {
  return ExactRowWriter(scenario, model).write();
}

std::vector<Rational> exact_costs(const Scenario& scenario, const model::Model& model) {
  return ExactRowWriter(scenario, model).costs();
}

}  // namespace leastwise::proof

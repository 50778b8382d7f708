#include "proof/exact_rows.hpp"

#include <leastwise/micronutrient.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <map>

#include "exact/decimal.hpp"
#include "exact/exact_contents.hpp"

namespace leastwise::proof {
namespace {

using exact::decimal;

/// The coefficients of one material alone.
struct Lone {
  std::size_t column;
  Rational operator()(std::size_t j) const { return j == column ? 1 : 0; }
};

class ExactRowWriter {
 public:
  ExactRowWriter(const Scenario& scenario, const model::Model& model)
      : scenario_(scenario),
        model_(model),
        per_tonne_(model.basis == Basis::per_tonne),
        beta_(decimal(scenario.binder().percent_of_powder) / 100) {
    for (std::size_t j = 0; j < model.material_of.size() && model.material_of[j] >= 0; ++j)
      contents_.push_back(exact::contents_of(scenario, material(j)));
  }

  std::vector<ExactRow> write() {
    if (per_tonne_)
      for (const RuleSide side : {RuleSide::min, RuleSide::max})
        add(
            {.kind = RuleKind::total, .side = RuleSide::exactly}, side,
            [&](std::size_t j) { return mass(j); }, 1000)
            .model_row = model_.total_row;
    for (const auto& rule : model_.rules) {
      if (rule.side != RuleSide::max) write(rule, RuleSide::min);
      if (rule.side != RuleSide::min) write(rule, RuleSide::max);
    }
    for (std::size_t k = 0; k < model_.minima.size(); ++k) write_minimum(static_cast<int>(k));
    return std::move(rows_);
  }

  [[nodiscard]] std::vector<Rational> costs() const {
    std::vector<Rational> costs;
    for (std::size_t j = 0; j < contents_.size(); ++j) {
      const Material& goods = scenario_.materials()[material(j)];
      const Rational binder =
          granule(j) ? Rational(0) : Rational(beta_ * decimal(scenario_.binder().price_per_t));
      costs.push_back((decimal(goods.price_per_t) + decimal(goods.freight_per_t) + binder +
                       mass(j) * decimal(scenario_.blending_fee_per_t())) /
                      1000);
    }
    return costs;
  }

 private:
  [[nodiscard]] std::size_t material(std::size_t j) const {
    return static_cast<std::size_t>(model_.material_of[j]);
  }
  [[nodiscard]] bool granule(std::size_t j) const { return model_.is_granule[j] != 0; }
  [[nodiscard]] Rational mass(std::size_t j) const {
    return granule(j) ? Rational(1) : Rational(1 + beta_);
  }
  /// Shares of `nutrient` in each material; kept, for rules come in pairs.
  const std::vector<Rational>& shares(const std::string& nutrient) {
    auto& known = shares_[nutrient];
    if (known.empty())
      for (const auto& contents : contents_)
        known.push_back(exact::percent_of(contents, nutrient) / 100);
    return known;
  }
  /// The share as a limit counts it: a minimum less, a maximum more the margin of a stated
  /// confidence.
  [[nodiscard]] Rational counted(const Rational& share, const Target& target, std::size_t j,
                                 RuleSide side) const {
    if (target.margin_percent.empty()) return share;
    const Rational margin = decimal(target.margin_percent[material(j)]) / 100;
    if (side == RuleSide::max) return share + margin;
    return share > margin ? Rational(share - margin) : Rational(0);
  }
  /// What one side counts of material j: the content, less or more a safety margin.
  Rational counted(const Target& target, std::size_t j, RuleSide side) {
    const Rational& share = shares(target.nutrient)[j];
    if (target.margin_percent.empty()) return share;
    const Rational margin = decimal(target.margin_percent[material(j)]) / 100;
    if (side == RuleSide::max) return share + margin;
    return share > margin ? Rational(share - margin) : Rational(0);
  }
  /// 1 / factor for a dedicated micronutrient granule.
  [[nodiscard]] Rational reach(std::size_t j, const Target& target) const {
    if (target.reach[material(j)] == 1) return 1;
    return 1 / decimal(granular_factor(scenario_.draft(), target.nutrient));
  }

  template <class Coefficient>
  ExactRow& add(const RuleId& id, RuleSide side, Coefficient coefficient, const Rational& limit) {
    ExactRow row;
    row.kind = id.kind;
    row.rule = to_string(id);
    row.is_maximum = side == RuleSide::max;
    for (std::size_t j = 0; j < contents_.size(); ++j) {
      const Rational value = coefficient(j);
      if (value != 0) row.entries.emplace_back(j, row.is_maximum ? Rational(-value) : value);
    }
    row.limit = row.is_maximum ? Rational(-limit) : limit;
    rows_.push_back(std::move(row));
    return rows_.back();
  }

  /// Ratios may share a name: the second is called `NAME (2)`.
  [[nodiscard]] std::string name(const model::Rule& rule) const {
    const std::string own = to_string(id_of(rule, scenario_));
    std::vector<std::size_t> seen;
    for (const auto& other : model_.rules) {
      if (&other == &rule) break;
      if (other.index != rule.index && other.kind == rule.kind &&
          to_string(id_of(other, scenario_)) == own &&
          std::find(seen.begin(), seen.end(), other.index) == seen.end())
        seen.push_back(other.index);
    }
    return seen.empty() ? own : own + " (" + std::to_string(seen.size() + 1) + ")";
  }

  void write(const model::Rule& rule, RuleSide side) {
    const Rational limit = decimal(rule.limit);
    const RuleId own = id_of(rule, scenario_);
    ExactRow& row = [&]() -> ExactRow& {
      switch (rule.kind) {
        case RuleKind::rate: {
          const Target& target = scenario_.rates()[rule.index];
          const auto part = [&](std::size_t j) -> Rational {
            const Rational share = counted(target, j, side);
            return side == RuleSide::max ? share : Rational(share * reach(j, target));
          };
          return add(own, side, part, limit);
        }
        case RuleKind::grade: {
          const Target& target = scenario_.grades()[rule.index];
          return of_product(
              own, side, [&](std::size_t j) { return counted(target, j, side); }, limit);
        }
        case RuleKind::ratio: {
          const Ratio& ratio = scenario_.ratios()[rule.index];
          const auto of = shares(ratio.of);
          const auto& to = shares(ratio.to);
          return add(
              own, side, [&](std::size_t j) { return Rational(of[j] - limit * to[j]); }, 0);
        }
        case RuleKind::total:
          return add(
              own, side, [&](std::size_t j) { return mass(j); }, limit);
        case RuleKind::coating:
          return add(
              own, side,
              [&](std::size_t j) { return granule(j) ? Rational(-limit / 100) : mass(j); }, 0);
        case RuleKind::share:
        case RuleKind::left_out:
          return of_product(own, side, Lone{column_of(rule.index)}, limit);
        case RuleKind::unasked:
          return add(own, side, Lone{column_of(rule.index)}, 0);
        case RuleKind::ceiling: {
          const auto& part = shares(scenario_.ceilings()[rule.index].element);
          return add(
              own, side, [&](std::size_t j) { return part[j]; }, limit);
        }
        case RuleKind::stock:
        case RuleKind::minimum_if_used:
        case RuleKind::exclusion:
        case RuleKind::bins:
          break;
      }
      return stock(own, column_of(rule.index), limit);
    }();
    if (rule.kind == RuleKind::ratio) row.rule = name(rule);
    row.model_row = rule.row;
    row.model_column = rule.column;
  }

  /// Limits, in percent, on a part of the product.
  template <class Part>
  ExactRow& of_product(const RuleId& rule, RuleSide side, Part part, const Rational& percent) {
    if (per_tonne_) return add(rule, side, part, percent * 10);
    return add(
        rule, side, [&](std::size_t j) -> Rational { return part(j) - percent / 100 * mass(j); },
        0);
  }
  ExactRow& stock(const RuleId& rule, std::size_t column, const Rational& stock_kg) {
    if (scenario_.make_hectares())
      return add(rule, RuleSide::max, Lone{column}, stock_kg / decimal(*scenario_.make_hectares()));
    return of_product(rule, RuleSide::max, Lone{column},
                      stock_kg / decimal(*scenario_.make_tonnes()) / 10);
  }
  void write_minimum(int k) {
    const auto& minimum = model_.minima[static_cast<std::size_t>(k)];
    const auto column = static_cast<std::size_t>(minimum.column);
    ExactRow& row = of_product(id_of(minimum, scenario_), RuleSide::min, Lone{column},
                               decimal(minimum.percent));
    row.minimum = k;
    row.model_row = minimum.row;
    row.model_column = minimum.row < 0 ? minimum.column : -1;
  }

  [[nodiscard]] std::size_t column_of(std::size_t index) const {
    const auto found =
        std::find(model_.material_of.begin(), model_.material_of.end(), static_cast<int>(index));
    return static_cast<std::size_t>(found - model_.material_of.begin());
  }

  const Scenario& scenario_;
  const model::Model& model_;
  bool per_tonne_;
  Rational beta_;
  std::vector<std::vector<exact::Content>> contents_{};
  std::map<std::string, std::vector<Rational>> shares_{};
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

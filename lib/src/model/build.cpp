#include <algorithm>
#include <map>
#include <span>
#include <string_view>

#include "model/model.hpp"
#include "model/purchase.hpp"
#include "scenario/rule_terms.hpp"
#include "scenario/units.hpp"

namespace leastwise::model {
namespace {

using rules::Counts;

/// Lays out the columns of a scenario, then a row, a bound or an either-or rule for each of its
/// rules.
class Builder {
 public:
  explicit Builder(const Scenario& scenario)
      : scenario_(scenario), rules_(rules::rules_of(scenario)), numbers_(scenario) {}

  Model build() {
    model_.basis = scenario_.basis();
    model_.entries.reserve(scenario_.materials().size() * (rules_.size() + 1));
    model_.rules.reserve(rules_.size());
    add_columns();
    if (model_.basis == Basis::per_tonne || needs_total()) add_total();
    model_.column_lower.assign(static_cast<std::size_t>(model_.columns), 0);
    model_.column_upper.assign(static_cast<std::size_t>(model_.columns), infinity);
    for (const auto& rule : rules_) add(rule);
    if (scenario_.has_price_tiers()) add_purchases();
    refresh_bounds(model_);
    return std::move(model_);
  }

 private:
  void add_columns();
  void add_total();
  void add(const rules::Rule& rule);
  void add_row(const rules::Rule& rule);
  void add_minimum(const rules::Rule& rule);
  void add_apart(const rules::Rule& rule);
  void pair_up();
  void add_purchases();

  [[nodiscard]] bool per_hectare() const { return model_.basis == Basis::per_hectare; }
  /// Whether a per-hectare model needs the total as a column of its own.
  [[nodiscard]] bool needs_total() const {
    return std::ranges::any_of(rules_, [](const rules::Rule& rule) {
      return rule.of.counts == Counts::product || rule.against.counts == Counts::product;
    });
  }
  /// Whether the limit moves coefficients of the row, and its bound is 0.
  [[nodiscard]] bool moves_coefficients(const rules::Rule& rule) const {
    return rule.is_ratio() || (per_hectare() && rule.against.counts == Counts::product);
  }
  /// What the bound moves by with each unit of the limit.
  [[nodiscard]] double rhs_derivative(const rules::Rule& rule) const {
    if (moves_coefficients(rule)) return 0;
    if (rule.against.counts == Counts::product) return kg_per_tonne / rule.parts / rule.make;
    return 1 / rule.scale();
  }
  /// The column that the rule bounds; -1 where it needs a row.
  [[nodiscard]] int bounded_column(const rules::Rule& rule) const {
    if (moves_coefficients(rule)) return -1;
    if (rule.of.counts == Counts::product) return model_.total_column;
    return rule.of.counts == Counts::material ? column_of_[rule.of.material] : -1;
  }

  /// Whether both are sides of one limit, and neither counts in a way of its own.
  [[nodiscard]] static bool count_alike(const rules::Rule& a, const rules::Rule& b) {
    const auto plainly = [](const rules::Quantity& of) {
      return of.margin_percent.empty() && of.availability.empty();
    };
    return a.id.kind == b.id.kind && a.index == b.index && plainly(a.of) && plainly(b.of);
  }

  int open_row() {
    model_.row_start.push_back(model_.row_start.back());
    model_.row_lower.push_back(-infinity);
    model_.row_upper.push_back(infinity);
    return model_.rows++;
  }
  /// Adds to the row opened last. A coefficient that moves with a limit has its entry even while it
  /// is zero.
  void entry(int column, double value) {
    model_.entries.push_back({column, value});
    ++model_.row_start.back();
  }

  const Scenario& scenario_;
  std::vector<rules::Rule> rules_;
  rules::Doubles numbers_;
  Model model_{};
  std::vector<int> column_of_{};  ///< of each material; -1 where it cannot enter
  std::map<std::string_view, int> family_index_{};
  const rules::Rule* with_row_ = nullptr;  ///< whose row was opened last
};

void Builder::add_columns() {
  const auto materials = scenario_.materials();
  column_of_.assign(materials.size(), -1);
  for (std::size_t i = 0; i < materials.size(); ++i) {
    if (!materials[i].can_enter()) continue;
    const auto [family, added] =
        family_index_.try_emplace(materials[i].family, static_cast<int>(model_.families.size()));
    if (added) model_.families.emplace_back();
    model_.families[static_cast<std::size_t>(family->second)].push_back(model_.columns);
    model_.family_of.push_back(family->second);
    model_.material_of.push_back(static_cast<int>(i));
    model_.is_granule.push_back(materials[i].form_used() == Form::granule);
    model_.cost.push_back(scenario_.cost_per_kg(i));
    column_of_[i] = model_.columns++;
  }
}

/// The row that makes the total: exactly 1000 kg, or the definition of the total's column.
void Builder::add_total() {
  model_.total_row = open_row();
  for (int j = 0; j < model_.columns; ++j)
    entry(j, scenario_.mass_factor(
                 static_cast<std::size_t>(model_.material_of[static_cast<std::size_t>(j)])));
  if (!per_hectare()) return;
  model_.total_column = model_.columns++;
  model_.material_of.push_back(-1);
  model_.is_granule.push_back(0);
  model_.family_of.push_back(-1);
  model_.cost.push_back(0);
  entry(model_.total_column, -1);
}

void Builder::add(const rules::Rule& rule) {
  if (rule.of.counts == Counts::bins) {
    model_.bins = static_cast<int>(rule.limit);
  } else if (rule.of.counts == Counts::families) {
    add_apart(rule);
  } else if (rule.if_used) {
    add_minimum(rule);
  } else {
    Rule made{rule.id.kind, rule.side, rule.index, rule.limit};
    made.rhs_derivative = rhs_derivative(rule);
    made.column = bounded_column(rule);
    model_.rules.push_back(std::move(made));
    if (model_.rules.back().column < 0) add_row(rule);
    pair_up();
  }
}

/// Both sides share a row where they count alike and the limit stands in its bound.
void Builder::add_row(const rules::Rule& rule) {
  Rule& made = model_.rules.back();
  const bool moves = moves_coefficients(rule);
  if (!moves && with_row_ != nullptr && count_alike(*with_row_, rule)) {
    made.row = model_.rows - 1;
    return;
  }
  with_row_ = &rule;
  made.row = open_row();
  rules::Terms terms(numbers_, rule);
  for (std::size_t i = 0; i < column_of_.size(); ++i) {
    const int column = column_of_[i];
    if (column < 0) continue;
    const double drift = rule.is_ratio() ? -terms.limit_rate() * terms.against(i) : 0;
    const double value = rule.is_ratio() ? terms.balance(i) : terms.of(i);
    if (value != 0 || drift != 0) entry(column, value);
    if (drift != 0) made.coefficient_derivatives.push_back({column, drift});
  }
  if (!moves || rule.is_ratio()) return;
  entry(model_.total_column, -terms.limit());
  made.coefficient_derivatives.push_back({model_.total_column, -terms.limit_rate()});
}

/// The two halves of an `exactly` whose sides count differently have one name and move together.
void Builder::pair_up() {
  const auto last = static_cast<int>(model_.rules.size()) - 1;
  if (last < 1) return;
  Rule& half = model_.rules[static_cast<std::size_t>(last)];
  Rule& other = model_.rules[static_cast<std::size_t>(last) - 1];
  if (half.kind != other.kind || half.index != other.index || half.limit != other.limit ||
      half.side == other.side)
    return;
  half.paired_rule = last - 1;
  other.paired_rule = last;
}

void Builder::add_minimum(const rules::Rule& rule) {
  MinimumIfUsed minimum{column_of_[rule.of.material], rule.of.material, rule.limit};
  const bool share = rule.against.counts == Counts::product;
  minimum.kg_rate = share ? kg_per_tonne / rule.scale() : 1 / rule.scale();
  minimum.kg = rule.limit * minimum.kg_rate;
  if (rule.id.kind == RuleKind::minimum_lot) minimum.of = MinimumIfUsed::Of::lot;
  if (per_hectare() && share) {
    minimum.row = open_row();
    minimum.total_column = model_.total_column;
    entry(minimum.column, 1);
    entry(model_.total_column, -rule.limit / rule.scale());
  }
  model_.minima.push_back(minimum);
}

void Builder::add_apart(const rules::Rule& rule) {
  model_.apart.push_back(
      {family_index_.at(rule.of.family_a), family_index_.at(rule.of.family_b), rule.index, true});
}

/// The columns of what is bought, where its price depends on how much that is.
void Builder::add_purchases() {
  ModelEdit edit(model_);
  for (std::size_t i = 0; i < column_of_.size(); ++i) {
    const Material& material = scenario_.materials()[i];
    if (column_of_[i] < 0 || material.price_tiers.empty()) continue;
    Purchase purchase{column_of_[i], material.tier_price == TierPrice::all};
    for (const PriceTier& tier : material.price_tiers)
      purchase.steps.push_back({tier.from_t / scenario_.bought_t(1),
                                (tier.price_per_t - material.price_per_t) / kg_per_tonne});
    add_purchase(edit, model_, purchase);
  }
}

}  // namespace

bool Model::either_or() const {
  return bins.has_value() ||
         std::any_of(joined_bins.begin(), joined_bins.end(),
                     [](const auto& b) { return b.active; }) ||
         std::any_of(minima.begin(), minima.end(), [](const auto& m) { return m.active; }) ||
         std::any_of(apart.begin(), apart.end(), [](const auto& a) { return a.active; });
}

Model build(const Scenario& scenario) { return Builder(scenario).build(); }

}  // namespace leastwise::model

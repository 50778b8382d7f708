#pragma once
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "scenario/rules.hpp"

namespace leastwise::model {

inline constexpr double infinity = std::numeric_limits<double>::infinity();

struct Entry {
  int column = 0;
  double value = 0;
};

/// One limit of the user: a side of a row, or of a column's bounds.
///
/// Raising `limit` by one moves the row's bound by `rhs_derivative` and its coefficients by
/// `drift`; a rule on a column moves that column's bound by `rhs_derivative`. That is all an
/// interval or a shadow price in the user's units needs to know.
struct Rule {
  RuleKind kind = RuleKind::rate;  ///< one that has a limit to move
  RuleSide side = RuleSide::min;   ///< of the row or bound; never `none`
  std::size_t index = 0;           ///< of the rate, grade, ratio or material it speaks of
  double limit = 0;                ///< in the user's units
  int row = -1;
  int column = -1;  ///< when it is a bound on a column (then `row` is -1)
  double rhs_derivative = 0;
  std::vector<Entry> coefficient_derivatives{};
  bool active = true;
  /// The other half of an `exactly` whose two sides count differently: they move together.
  int paired_rule = -1;
};

/// x = 0, or x at least so much.
struct MinimumIfUsed {
  /// What makes it so.
  enum class Of {
    share,       ///< a share of the product
    lot,         ///< the least that is bought at once
    price_tier,  ///< a price begins there: no rule, nothing to be lifted
  };
  int column = 0;
  std::size_t material = 0;
  double limit = 0;  ///< in the user's units: percent of the product, or kg for what is made
  double kg = 0;     ///< without a row: the bound when used
  int row = -1;      ///< of a share in the per-hectare basis: the row to switch on when used
  bool active = true;
  int total_column = -1;  ///< of a row: the total that it is a share of
  Of of = Of::share;
  double kg_rate = 10;  ///< what `kg` moves by with each unit of the limit
};

/// A column that is at most so much, whatever the rules.
struct ColumnLimit {
  int column = 0;
  double most = 0;
};

/// Two families (indices into `Model::families`) of which one must stay out.
struct Apart {
  int family_a = 0;
  int family_b = 0;
  std::size_t exclusion = 0;  ///< index into Scenario::exclusions()
  bool active = true;
};

/// A row that no rule made and none changes.
struct FixedRow {
  int row = 0;
  double value = 0;
};

/// At most so many granular materials of the families from `first_family` to before `end_family`.
struct BinLimit {
  int most = 0;
  int first_family = 0;
  int end_family = 0;
  bool active = true;
};

/// The linear program of a scenario with its either-or rules, in the user's own units: kg of each
/// material per hectare or per tonne, costs in currency. Pure data: it knows no solver.
struct Model {
  Basis basis = Basis::per_tonne;
  int rows = 0;
  int columns = 0;
  std::vector<int> row_start{0};  ///< size rows + 1, into `entries`
  std::vector<Entry> entries{};   ///< by row; no column twice in a row
  std::vector<double> row_lower{};
  std::vector<double> row_upper{};
  std::vector<double> column_lower{};
  std::vector<double> column_upper{};
  std::vector<double> cost{};                ///< currency per kg
  std::vector<int> material_of{};            ///< column -> index in Scenario::materials(), or -1
  std::vector<char> is_granule{};            ///< column takes a bin
  std::vector<int> family_of{};              ///< column -> index into `families`, or -1
  std::vector<std::vector<int>> families{};  ///< columns of each family
  int total_row = -1;                        ///< structural: total = 1000 kg, or defines the column
  int total_column = -1;                     ///< total kg/ha, where a rule needs it
  std::vector<FixedRow> fixed_rows{};        ///< totals of joined models, and what is bought
  std::vector<ColumnLimit> column_limits{};  ///< of what is bought at one price
  std::vector<Rule> rules{};
  std::vector<MinimumIfUsed> minima{};
  std::vector<Apart> apart{};
  std::optional<int> bins{};
  std::vector<BinLimit> joined_bins{};  ///< of joined models, each for its own families

  [[nodiscard]] bool either_or() const;  ///< any active either-or rule
  /// What the total's row comes to: 1000 kg, or 0 where it defines the total's column.
  [[nodiscard]] double total_amount() const { return basis == Basis::per_tonne ? 1000 : 0; }
};

/// Builds the model of `scenario`, row by row as the mathematics of the manual has it.
[[nodiscard]] Model build(const Scenario& scenario);

/// Recomputes all row and column bounds from the active rules.
void refresh_bounds(Model& model);

/// The bounds that the row or column of rule `r` has without it and its partner.
[[nodiscard]] std::pair<double, double> bounds_without(const Model& model, std::size_t r);

/// A row or column whose minimum lies above its maximum: two rules that need no solver to clash.
[[nodiscard]] bool bounds_cross(const Model& model);

/// Moves rule `r`, and its partner if it has one, to another limit, in the user's units.
void set_limit(Model& model, std::size_t r, double limit);

/// `model` with rule `r` at another limit.
[[nodiscard]] Model at_limit(Model model, std::size_t r, double limit);

/// Moves minimum if used `k` to another limit.
void set_minimum(Model& model, std::size_t k, double limit);

/// Total mass of `x` in the model's units: kg per hectare, or about 1000.
[[nodiscard]] double total_mass(const Scenario& scenario, const Model& model,
                                const std::vector<double>& x);

/// Which rule of the scenario it is, and where its limit stands.
[[nodiscard]] inline rules::Origin origin_of(const Rule& rule, const Scenario& scenario) {
  return rules::origin_of(scenario, rule.kind, rule.side, rule.index);
}
[[nodiscard]] inline rules::Origin origin_of(const MinimumIfUsed& minimum,
                                             const Scenario& scenario) {
  const bool lot = minimum.of == MinimumIfUsed::Of::lot;
  return rules::origin_of(scenario, lot ? RuleKind::minimum_lot : RuleKind::minimum_if_used,
                          RuleSide::min, minimum.material);
}
[[nodiscard]] inline rules::Origin origin_of(const Apart& apart, const Scenario& scenario) {
  return rules::origin_of(scenario, RuleKind::exclusion, RuleSide::max, apart.exclusion);
}
/// The minimum of the rule as the scenario declares it, where a label tolerance lowers its limit.
[[nodiscard]] inline std::optional<double> declared_of(const Rule& rule, const Scenario& scenario) {
  if (rule.kind != RuleKind::grade || rule.side != RuleSide::min) return std::nullopt;
  return scenario.grades()[rule.index].guarantee;
}

}  // namespace leastwise::model

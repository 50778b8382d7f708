#include "model/amount.hpp"

#include <utility>

#include "model/model_edit.hpp"
#include "scenario/units.hpp"

namespace leastwise::model {
namespace {

/// Multiplies what stands on the right of every row by the amount.
class Multiplier {
 public:
  explicit Multiplier(const Model& unit)
      : unit_(unit), taken_(static_cast<std::size_t>(unit.rows), 0) {
    model() = unit;
    model().rules.clear();
    model().minima.clear();
    model().bins.reset();
    model().total_row = -1;
    out_.per_unit = per_tonne() ? kg_per_tonne : 1;
  }

  Amounted run(const Limits& amount) {
    {
      ModelEdit edit(model());
      out_.amount_column = edit.add_column(0);
      if (unit_.total_row >= 0) {
        if (per_tonne()) edit.row(unit_.total_row).push_back({out_.amount_column, -1});
        model().fixed_rows.push_back({unit_.total_row, 0});
      }
      for (const auto& rule : unit_.rules) add(rule, edit);
      for (const auto& minimum : unit_.minima) add(minimum, edit);
    }
    if (per_tonne()) model().total_column = out_.amount_column;
    out_.first_amount_rule = model().rules.size();
    add_amount(amount);
    refresh_bounds(model());
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool per_tonne() const { return unit_.basis == Basis::per_tonne; }
  Model& model() { return out_.model; }

  /// The row of a rule whose bound is to move with the amount: its own, or a copy where another
  /// rule has that already, or a new one for a bound on a column.
  int own_row(const Rule& rule, ModelEdit& edit) {
    if (rule.row < 0) return edit.add_row({{rule.column, 1}}, -infinity, infinity);
    if (!std::exchange(taken_[static_cast<std::size_t>(rule.row)], 1)) return rule.row;
    const auto first = unit_.entries.begin() + unit_.row_start[static_cast<std::size_t>(rule.row)];
    const auto last =
        unit_.entries.begin() + unit_.row_start[static_cast<std::size_t>(rule.row) + 1];
    return edit.add_row({first, last}, -infinity, infinity);
  }

  void add(Rule rule, ModelEdit& edit) {
    // What stays out stays out of any amount.
    const bool fixed = rule.rhs_derivative == 0 || rule.kind == RuleKind::unasked;
    if (!fixed) {
      const double rate = rule.rhs_derivative / out_.per_unit;
      rule.row = own_row(rule, edit);
      rule.column = -1;
      rule.rhs_derivative = 0;
      rule.coefficient_derivatives = {{out_.amount_column, -rate}};
      edit.row(rule.row).push_back({out_.amount_column, -rule.limit * rate});
    }
    model().rules.push_back(std::move(rule));
  }

  void add(MinimumIfUsed minimum, ModelEdit& edit) {
    if (minimum.row < 0) {
      minimum.total_column = out_.amount_column;
      minimum.row =
          edit.add_row({{minimum.column, 1}, {out_.amount_column, -minimum.kg / out_.per_unit}},
                       -infinity, infinity);
    }
    model().minima.push_back(minimum);
  }

  void add_amount(const Limits& amount) {
    const auto side = [&](RuleSide which, double limit) {
      model().rules.push_back(
          {RuleKind::total, which, 0, limit, -1, out_.amount_column, out_.per_unit, {}, true});
    };
    if (amount.exact()) return side(RuleSide::exactly, amount.min);
    if (amount.has_min() && amount.min > 0) side(RuleSide::min, amount.min);
    if (amount.has_max()) side(RuleSide::max, amount.max);
  }

  const Model& unit_;
  std::vector<char> taken_;  ///< by row of `unit`: a rule moves its bound with the amount
  Amounted out_{};
};

}  // namespace

Amounted for_amount(const Model& unit, const Limits& amount) {
  return Multiplier(unit).run(amount);
}

}  // namespace leastwise::model

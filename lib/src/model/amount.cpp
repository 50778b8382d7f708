#include "model/amount.hpp"

#include <utility>

#include "scenario/units.hpp"

namespace leastwise::model {
namespace {

/// Multiplies what stands on the right of every row by the amount.
class Multiplier {
 public:
  explicit Multiplier(const Model& unit) : unit_(unit), rows_(static_cast<std::size_t>(unit.rows)) {
    for (std::size_t r = 0; r < rows_.size(); ++r)
      rows_[r].assign(unit.entries.begin() + unit.row_start[r],
                      unit.entries.begin() + unit.row_start[r + 1]);
    taken_.assign(rows_.size(), 0);
  }

  Amounted run(const Limits& amount) {
    copy_columns();
    if (unit_.total_row >= 0) {
      if (per_tonne()) row(unit_.total_row).push_back({out_.amount_column, -1});
      model().fixed_rows.push_back({unit_.total_row, 0});
    }
    for (const auto& rule : unit_.rules) add(rule);
    for (const auto& minimum : unit_.minima) add(minimum);
    out_.first_amount_rule = model().rules.size();
    add_amount(amount);
    lay_out();
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool per_tonne() const { return unit_.basis == Basis::per_tonne; }
  Model& model() { return out_.model; }
  std::vector<Entry>& row(int r) { return rows_[static_cast<std::size_t>(r)]; }

  void copy_columns() {
    model().basis = unit_.basis;
    model().columns = unit_.columns + 1;
    model().cost = unit_.cost;
    model().material_of = unit_.material_of;
    model().is_granule = unit_.is_granule;
    model().family_of = unit_.family_of;
    model().families = unit_.families;
    model().apart = unit_.apart;
    model().cost.push_back(0);
    model().material_of.push_back(-1);
    model().is_granule.push_back(0);
    model().family_of.push_back(-1);
    out_.amount_column = unit_.columns;
    out_.per_unit = per_tonne() ? kg_per_tonne : 1;
    model().total_column = per_tonne() ? out_.amount_column : unit_.total_column;
  }

  /// The row of a rule whose bound is to move with the amount: its own, or a copy where another
  /// rule has that already, or a new one for a bound on a column.
  int own_row(const Rule& rule) {
    if (rule.row >= 0 && !std::exchange(taken_[static_cast<std::size_t>(rule.row)], 1))
      return rule.row;
    if (rule.row < 0) {
      rows_.push_back({{rule.column, 1}});
    } else {
      const auto first =
          unit_.entries.begin() + unit_.row_start[static_cast<std::size_t>(rule.row)];
      const auto last =
          unit_.entries.begin() + unit_.row_start[static_cast<std::size_t>(rule.row) + 1];
      rows_.emplace_back(first, last);
    }
    return static_cast<int>(rows_.size()) - 1;
  }

  void add(Rule rule) {
    // What stays out stays out of any amount.
    const bool fixed = rule.rhs_rate == 0 || rule.kind == RuleKind::unasked;
    if (!fixed) {
      const double rate = rule.rhs_rate / out_.per_unit;
      rule.row = own_row(rule);
      rule.column = -1;
      rule.rhs_rate = 0;
      rule.drift = {{out_.amount_column, -rate}};
      row(rule.row).push_back({out_.amount_column, -rule.limit * rate});
    }
    model().rules.push_back(std::move(rule));
  }

  void add(MinimumIfUsed minimum) {
    if (minimum.row < 0) {
      minimum.row = static_cast<int>(rows_.size());
      minimum.total_column = out_.amount_column;
      rows_.push_back({{minimum.column, 1}, {out_.amount_column, -minimum.kg / out_.per_unit}});
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

  void lay_out() {
    for (const auto& entries : rows_) {
      model().entries.insert(model().entries.end(), entries.begin(), entries.end());
      model().row_start.push_back(static_cast<int>(model().entries.size()));
    }
    model().rows = static_cast<int>(rows_.size());
    model().row_lower.resize(rows_.size());
    model().row_upper.resize(rows_.size());
    model().column_lower.resize(static_cast<std::size_t>(model().columns));
    model().column_upper.resize(static_cast<std::size_t>(model().columns));
    refresh_bounds(model());
  }

  const Model& unit_;
  std::vector<std::vector<Entry>> rows_;
  std::vector<char> taken_{};  ///< by row of `unit`: a rule moves its bound with the amount
  Amounted out_{};
};

}  // namespace

Amounted for_amount(const Model& unit, const Limits& amount) {
  return Multiplier(unit).run(amount);
}

}  // namespace leastwise::model

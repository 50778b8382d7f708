#include "insight/shadow_price.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/certificate.hpp"

namespace leastwise::insight {
namespace {

using model::infinity;
using solver::Standing;

std::size_t index(int i) { return static_cast<std::size_t>(i); }

template <class Visit>
void for_each_entry(const solver::LinearData& data, int row, Visit visit) {
  for (int e = data.row_start[index(row)]; e < data.row_start[index(row) + 1]; ++e)
    visit(data.entries[index(e)].column, data.entries[index(e)].value);
}

/// A small dense square matrix with its LU factors, partial pivoting.
class Factors {
 public:
  explicit Factors(std::size_t size) : size_(size), lu_(size * size, 0.0), order_(size) {}

  double& at(std::size_t row, std::size_t column) { return lu_[row * size_ + column]; }

  bool factorise() {
    for (std::size_t i = 0; i < size_; ++i) order_[i] = i;
    for (std::size_t k = 0; k < size_; ++k) {
      std::size_t pivot = k;
      for (std::size_t i = k + 1; i < size_; ++i)
        if (std::fabs(at(i, k)) > std::fabs(at(pivot, k))) pivot = i;
      if (std::fabs(at(pivot, k)) < 1e-13) return false;
      if (pivot != k) {
        for (std::size_t j = 0; j < size_; ++j) std::swap(at(k, j), at(pivot, j));
        std::swap(order_[k], order_[pivot]);
      }
      for (std::size_t i = k + 1; i < size_; ++i) {
        const double factor = at(i, k) /= at(k, k);
        if (factor == 0) continue;
        for (std::size_t j = k + 1; j < size_; ++j) at(i, j) -= factor * at(k, j);
      }
    }
    return true;
  }

  /// Solves M z = b.
  std::vector<double> solve(const std::vector<double>& b) {
    std::vector<double> z(size_);
    for (std::size_t i = 0; i < size_; ++i) {
      z[i] = b[order_[i]];
      for (std::size_t j = 0; j < i; ++j) z[i] -= at(i, j) * z[j];
    }
    for (std::size_t i = size_; i-- > 0;) {
      for (std::size_t j = i + 1; j < size_; ++j) z[i] -= at(i, j) * z[j];
      z[i] /= at(i, i);
    }
    return z;
  }

  /// Solves M' z = b.
  std::vector<double> solve_transposed(std::vector<double> b) {
    for (std::size_t i = 0; i < size_; ++i) {
      for (std::size_t j = 0; j < i; ++j) b[i] -= at(j, i) * b[j];
      b[i] /= at(i, i);
    }
    for (std::size_t i = size_; i-- > 0;)
      for (std::size_t j = i + 1; j < size_; ++j) b[i] -= at(j, i) * b[j];
    std::vector<double> z(size_);
    for (std::size_t i = 0; i < size_; ++i) z[order_[i]] = b[i];
    return z;
  }

 private:
  std::size_t size_;
  std::vector<double> lu_;
  std::vector<std::size_t> order_;
};

/// An interval of changes that shrinks as conditions come in.
struct Range {
  double down = -infinity;
  double up = infinity;

  /// Keeps value + u rate >= 0. Values within rounding of zero count as zero.
  void keep_nonnegative(double value, double rate, double size) {
    if (!std::isfinite(value) || std::fabs(rate) <= 1e-13 * std::max(1.0, size)) return;
    const double room = value <= 1e-9 * size ? 0 : value;
    if (rate > 0)
      down = std::max(down, -room / rate);
    else
      up = std::min(up, -room / rate);
  }
};

/// The basis of a solution without the rows whose slack is basic: active rows by basic columns.
class ActiveBasis {
 public:
  ActiveBasis(const solver::LinearData& data, const solver::SearchResult& solution)
      : data_(data), solution_(solution), column_at_(solution.x.size(), -1) {
    for (std::size_t i = 0; i < solution.row_standing.size(); ++i)
      if (solution.row_standing[i] != Standing::basic) rows_.push_back(static_cast<int>(i));
    for (std::size_t j = 0; j < solution.column_standing.size(); ++j)
      if (solution.column_standing[j] == Standing::basic) {
        column_at_[j] = static_cast<int>(columns_.size());
        columns_.push_back(static_cast<int>(j));
      }
  }

  bool factorise() {
    if (rows_.size() != columns_.size()) return false;
    factors_.emplace(rows_.size());
    scale_.assign(rows_.size(), 1.0);
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      double largest = 0;
      for_each_entry(data_, rows_[k],
                     [&](int, double a) { largest = std::max(largest, std::fabs(a)); });
      if (largest > 0) scale_[k] = largest;
      for_each_entry(data_, rows_[k], [&](int j, double a) {
        if (column_at_[index(j)] >= 0) factors_->at(k, index(column_at_[index(j)])) = a / scale_[k];
      });
    }
    return factors_->factorise();
  }

  /// Change of the basic columns when the right-hand sides of the active rows change by `rhs`.
  std::vector<double> respond(std::vector<double> rhs) {
    for (std::size_t k = 0; k < rhs.size(); ++k) rhs[k] /= scale_[k];
    return factors_->solve(rhs);
  }

  /// v with v'B = d on the basic columns; along `rows()`.
  std::vector<double> price(const std::vector<double>& d) {
    auto v = factors_->solve_transposed(d);
    for (std::size_t k = 0; k < v.size(); ++k) v[k] /= scale_[k];
    return v;
  }

  [[nodiscard]] const std::vector<int>& rows() const { return rows_; }
  [[nodiscard]] const std::vector<int>& columns() const { return columns_; }
  [[nodiscard]] int position_of_column(int j) const { return column_at_[index(j)]; }

 private:
  const solver::LinearData& data_;
  const solver::SearchResult& solution_;
  std::vector<int> rows_;
  std::vector<int> columns_;
  std::vector<int> column_at_;
  std::vector<double> scale_;
  std::optional<Factors> factors_;
};

/// Keeps every basic column and every basic slack within its bounds.
/// `moving_row` is a row whose own bounds move by `moving_rate`, or -1.
void limit_by_primal(const solver::LinearData& data, const solver::SearchResult& solution,
                     const std::vector<double>& rate, int moving_row, double moving_rate,
                     Range& range) {
  double mass = 0;
  for (const double v : solution.x) mass = std::max(mass, std::fabs(v));
  for (std::size_t j = 0; j < solution.x.size(); ++j) {
    if (solution.column_standing[j] != Standing::basic) continue;
    range.keep_nonnegative(solution.x[j] - data.lower[j], rate[j], mass);
    range.keep_nonnegative(data.upper[j] - solution.x[j], -rate[j], mass);
  }
  for (std::size_t i = 0; i < solution.row_standing.size(); ++i) {
    if (solution.row_standing[i] != Standing::basic) continue;
    double activity = 0;
    double slope = 0;
    double size = 0;
    for_each_entry(data, static_cast<int>(i), [&](int j, double a) {
      activity += a * solution.x[index(j)];
      slope += a * rate[index(j)];
      size = std::max(size, std::fabs(a));
    });
    if (static_cast<int>(i) == moving_row) slope -= moving_rate;
    range.keep_nonnegative(activity - data.row_lower[i], slope, size * mass);
    range.keep_nonnegative(data.row_upper[i] - activity, -slope, size * mass);
  }
}

}  // namespace

namespace {

/// The price of one rule without its partner.
double own_price(const model::Model& model, std::size_t r, const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  if (!rule.active || !is_binding(model, r, solution)) return 0;
  if (rule.row >= 0) {
    double rate = rule.rhs_rate;
    for (const auto& drift : rule.drift) rate -= drift.value * solution.x[index(drift.column)];
    return solution.y[index(rule.row)] * rate;
  }
  double reduced = solution.leaf.cost[index(rule.column)];
  for (int i = 0; i < solution.leaf.rows; ++i) {
    if (solution.y[index(i)] == 0) continue;
    for_each_entry(solution.leaf, i, [&](int j, double a) {
      if (j == rule.column) reduced -= a * solution.y[index(i)];
    });
  }
  return reduced * rule.rhs_rate;
}

}  // namespace

double shadow_price(const model::Model& model, std::size_t r,
                    const solver::SearchResult& solution) {
  const int partner = model.rules[r].partner;
  return own_price(model, r, solution) +
         (partner < 0 ? 0 : own_price(model, index(partner), solution));
}

bool is_binding(const model::Model& model, std::size_t r, const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  const bool on_row = rule.row >= 0;
  const auto k = index(on_row ? rule.row : rule.column);
  const auto standing = on_row ? solution.row_standing[k] : solution.column_standing[k];
  if (standing == Standing::basic || standing == Standing::free) return false;
  const double lower = on_row ? solution.leaf.row_lower[k] : solution.leaf.lower[k];
  const double upper = on_row ? solution.leaf.row_upper[k] : solution.leaf.upper[k];
  const double bound = rule.rhs_rate == 0 ? 0.0 : rule.limit * rule.rhs_rate;
  if (rule.side == model::Side::exactly) return lower == upper;
  if (lower == upper)  // a min and a max that meet: the dual's sign says which one holds
    return bound == lower && (!on_row || (rule.side == model::Side::min) == (solution.y[k] >= 0));
  if (rule.side == model::Side::min) return standing == Standing::at_lower && bound == lower;
  return standing == Standing::at_upper && bound == upper;
}

std::optional<BasisStep> basis_step(const model::Model& model, std::size_t r,
                                    const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  const auto& data = solution.leaf;
  ActiveBasis basis(data, solution);
  if (!basis.factorise()) return std::nullopt;
  const auto& rows = basis.rows();

  // How everything moves with u: the right-hand side of the rule's row, or a column's bound.
  std::vector<double> rhs(rows.size(), 0.0);
  std::vector<double> rate(solution.x.size(), 0.0);
  std::vector<double> v(rows.size(), 0.0);
  double curve = 0;
  double y_k = 0;
  std::vector<double> drift(solution.x.size(), 0.0);
  int moving_row = -1;
  if (rule.row >= 0) {
    double alpha = rule.rhs_rate;
    std::vector<double> basic_drift(rows.size(), 0.0);
    for (const auto& d : rule.drift) {
      drift[index(d.column)] = d.value;
      alpha -= d.value * solution.x[index(d.column)];
      const int at = basis.position_of_column(d.column);
      if (at >= 0) basic_drift[index(at)] = d.value;
    }
    // The rule's row, and its partner's: held rows move the blend, a slack one only its own bound.
    for (const int row : {rule.row, rule.partner < 0 ? -1 : model.rules[index(rule.partner)].row}) {
      if (row < 0) continue;
      const auto k = std::find(rows.begin(), rows.end(), row) - rows.begin();
      if (k < static_cast<std::ptrdiff_t>(rows.size()))
        rhs[static_cast<std::size_t>(k)] = 1;
      else
        moving_row = row;
    }
    const auto w = basis.respond(rhs);
    for (std::size_t c = 0; c < w.size(); ++c) {
      curve += basic_drift[c] * w[c];
      rate[index(basis.columns()[c])] = w[c] * alpha;
    }
    if (!rule.drift.empty()) {
      if (moving_row >= 0) return std::nullopt;  // a slack rule has no price to follow
      v = basis.price(basic_drift);
    }
    y_k = solution.y[index(rule.row)];
  } else {
    rate[index(rule.column)] = rule.rhs_rate;
    for (std::size_t k = 0; k < rows.size(); ++k)
      for_each_entry(data, rows[k], [&](int j, double a) {
        if (j == rule.column) rhs[k] = -a * rule.rhs_rate;
      });
    const auto w = basis.respond(rhs);
    for (std::size_t c = 0; c < w.size(); ++c) rate[index(basis.columns()[c])] = w[c];
  }

  Range range;
  limit_by_primal(data, solution, rate, moving_row, rule.rhs_rate, range);
  if (!rule.drift.empty()) {
    // Reduced costs: d_j + u y_k (v.A_j - drift_j); duals of active rows: y_i - u y_k v_i.
    const auto reduced = solver::reduced_costs(data, solution.y);
    std::vector<double> slope(solution.x.size(), 0.0);
    for (std::size_t k = 0; k < rows.size(); ++k)
      for_each_entry(data, rows[k], [&](int j, double a) { slope[index(j)] += v[k] * a; });
    double cost_size = 0;
    for (const double c : data.cost) cost_size = std::max(cost_size, std::fabs(c));
    for (std::size_t j = 0; j < reduced.size(); ++j) {
      const double move = y_k * (slope[j] - drift[j]);
      if (data.lower[j] == data.upper[j]) continue;
      if (solution.column_standing[j] == Standing::at_lower)
        range.keep_nonnegative(reduced[j], move, cost_size);
      if (solution.column_standing[j] == Standing::at_upper)
        range.keep_nonnegative(-reduced[j], -move, cost_size);
    }
    for (std::size_t k = 0; k < rows.size(); ++k) {
      const auto i = index(rows[k]);
      if (data.row_lower[i] == data.row_upper[i]) continue;
      const double sign = solution.row_standing[i] == Standing::at_lower ? 1 : -1;
      double size = 0;
      for_each_entry(data, rows[k], [&](int, double a) { size = std::max(size, std::fabs(a)); });
      range.keep_nonnegative(sign * solution.y[i], -sign * y_k * v[k],
                             size > 0 ? cost_size / size : 0);
    }
  }
  // Back from u to t; 1 - curve u must stay positive.
  const auto to_change = [&](double u) {
    if (curve == 0 || u == 0) return u;
    if (!std::isfinite(u)) {
      const bool pole = (u > 0) == (curve > 0);
      return pole ? u : -1 / curve;
    }
    const double rest = 1 - curve * u;
    return rest <= 0 ? (u > 0 ? infinity : -infinity) : u / rest;
  };
  return BasisStep{to_change(range.down), to_change(range.up), curve};
}

}  // namespace leastwise::insight

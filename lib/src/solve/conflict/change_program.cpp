#include "solve/conflict/change_program.hpp"

#include <algorithm>
#include <cmath>

#include "model/model_edit.hpp"

namespace leastwise::solve {
namespace {

using model::Entry;
using model::infinity;
using model::Model;

/// Kilograms of product below which a change is not divided by it.
constexpr double no_amount = 1e-12;

/// A limit is measured against something that varies.
bool is_measured(const model::Rule& rule) { return !rule.coefficient_derivatives.empty(); }

double largest_rate(const model::Rule& rule) {
  double most = 0;
  for (const auto& rate : rule.coefficient_derivatives) most = std::max(most, -rate.value);
  return most;
}

/// What the limit is measured against, with 1 as the most per kg of any column.
std::vector<Entry> measured_against(const model::Rule& rule) {
  auto of = rule.coefficient_derivatives;
  for (auto& entry : of) entry.value /= -largest_rate(rule);
  return of;
}

bool same(const std::vector<Entry>& a, const std::vector<Entry>& b) {
  return std::ranges::equal(a, b, [](const Entry& m, const Entry& n) {
    return m.column == n.column && std::fabs(m.value - n.value) <= 1e-12;
  });
}

}  // namespace

ChangeProgram::ChangeProgram(const Model& elastic, const std::vector<Surplus>& surplus)
    : elastic_(elastic), surplus_(surplus), program_(elastic) {
  std::ranges::fill(program_.cost, 0.0);
  model::ModelEdit edit(program_);
  for (const auto& s : surplus_) {
    const auto column = static_cast<std::size_t>(s.column);
    const auto& rule = elastic_.rules[s.rule];
    // Without either, it is a ratio to what nothing holds: no limit helps.
    program_.column_upper[column] = is_measured(rule) || rule.rhs_derivative != 0 ? infinity : 0;
    if (is_measured(rule))
      add_amount(measured_against(rule), edit);
    else if (rule.rhs_derivative != 0)
      program_.cost[column] = weight_of(s);
  }
  if (elastic_.basis == Basis::per_hectare) add_product(edit);
  for (auto& amount : amounts_) add_planes(amount, edit);
}

double ChangeProgram::weight_of(const Surplus& s) const {
  const auto& rule = elastic_.rules[s.rule];
  return 1 / (is_measured(rule) ? largest_rate(rule) : rule.rhs_derivative) / size_of(rule);
}

std::size_t ChangeProgram::add_amount(std::vector<Entry> of, model::ModelEdit& edit) {
  const auto known =
      std::ranges::find_if(amounts_, [&](const Amount& amount) { return same(amount.of, of); });
  if (known != amounts_.end()) return static_cast<std::size_t>(known - amounts_.begin());
  Amount added{std::move(of)};
  if (added.of.size() == 1) {
    added.amount = added.of[0].column;
  } else {
    added.amount = edit.add_column(0);
    auto sum = added.of;
    sum.push_back({added.amount, -1.0});
    edit.add_row(std::move(sum), 0, 0);
  }
  amounts_.push_back(std::move(added));
  return amounts_.size() - 1;
}

void ChangeProgram::add_product(model::ModelEdit& edit) {
  std::vector<Entry> of;
  if (elastic_.total_column >= 0) {
    of.push_back({elastic_.total_column, 1.0});
  } else {
    for (std::size_t j = 0; j < elastic_.material_of.size(); ++j)
      if (elastic_.material_of[j] >= 0) of.push_back({static_cast<int>(j), 1.0});
  }
  product_ = add_amount(std::move(of), edit);
}

void ChangeProgram::add_planes(Amount& amount, model::ModelEdit& edit) {
  amount.weighed = edit.add_column(0);
  amount.change = edit.add_column(1);
  std::vector<Entry> sum{{amount.weighed, -1.0}};
  for (const auto& s : surplus_) {
    const auto& rule = elastic_.rules[s.rule];
    if (is_measured(rule) && same(measured_against(rule), amount.of))
      sum.push_back({s.column, weight_of(s)});
  }
  edit.add_row(std::move(sum), 0, 0);
  for (int* plane : {&amount.plane_above, &amount.plane_below})
    *plane = edit.add_row({{amount.weighed, 1.0}, {amount.change, 0.0}, {amount.amount, 0.0}},
                          -infinity, infinity);
}

void ChangeProgram::lay(Model& program, const Amount& amount, const ChangeRange& range) const {
  const auto bound = [&](int column, double from, double to) {
    program.column_lower[static_cast<std::size_t>(column)] = from;
    program.column_upper[static_cast<std::size_t>(column)] = to;
  };
  const auto plane = [&](int row, double of_change, double of_amount) {
    const auto r = static_cast<std::size_t>(row);
    const auto start = static_cast<std::size_t>(program.row_start[r]);
    const bool there = of_change < infinity;
    program.entries[start + 1].value = there ? -of_change : 0;
    program.entries[start + 2].value = there ? -of_amount : 0;
    program.row_upper[r] = there ? -of_change * of_amount : infinity;
  };
  bound(amount.amount, range.from, range.to);
  bound(amount.change, range.change_from, range.change_to);
  plane(amount.plane_above, range.to, range.change_from);
  plane(amount.plane_below, range.from, range.change_to);
}

Model ChangeProgram::scaled_program(Scaled scaled) const {
  Model program = program_;
  const double sign = scaled == Scaled::up ? 1 : -1;
  for (const auto& s : surplus_)
    if (!is_measured(elastic_.rules[s.rule]) && s.sign != sign)
      program.cost[static_cast<std::size_t>(s.column)] = 0;
  for (const auto& rule : program.rules)
    if (scaled == Scaled::up && rules::is_guard(rule.kind) && rule.limit > 0)
      program.row_upper[static_cast<std::size_t>(rule.row)] = infinity;
  return program;
}

solver::SearchResult ChangeProgram::bound(const ChangeBox& box, Scaled scaled,
                                          const solver::SearchOptions& options) {
  const auto solve = [&](Model& program) {
    for (std::size_t k = 0; k < amounts_.size(); ++k) lay(program, amounts_[k], box[k]);
    return solver::search(program, options);
  };
  if (scaled == Scaled::no) return solve(program_);
  auto program = scaled_program(scaled);
  return solve(program);
}

double ChangeProgram::amount(std::size_t k, const std::vector<double>& x) const {
  double sum = 0;
  for (const auto& entry : amounts_[k].of)
    sum += entry.value * x[static_cast<std::size_t>(entry.column)];
  return sum;
}

double ChangeProgram::true_change(std::size_t k, const std::vector<double>& x) const {
  return x[static_cast<std::size_t>(amounts_[k].weighed)] / std::max(amount(k, x), no_amount);
}

}  // namespace leastwise::solve

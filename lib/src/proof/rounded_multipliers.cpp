#include "proof/rounded_multipliers.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::proof {
namespace {

/// Reduced costs below this, relative to their terms, are rounding.
constexpr double noise = 1e-10;
/// Bits that each multiplier keeps at least.
constexpr int precision_bits = 50;

/// Multipliers as whole numbers over 2^shift.
struct Rounded {
  std::vector<Integer> number{};
  int shift = 0;
};

std::optional<Rounded> rounded(const ExactProgram& program,
                               const std::vector<double>& multipliers) {
  Rounded result;
  int least = 2000;
  for (std::size_t r = 0; r < multipliers.size(); ++r) {
    if (multipliers[r] == 0) continue;
    int exponent = 0;
    std::frexp(multipliers[r] / program.row_scale(r).about, &exponent);
    least = std::min(least, exponent);
  }
  if (least == 2000) return std::nullopt;
  result.shift = std::max(0, precision_bits - least);
  if (result.shift > 500) return std::nullopt;
  for (std::size_t r = 0; r < multipliers.size(); ++r)
    result.number.emplace_back(
        std::floor(std::ldexp(multipliers[r] / program.row_scale(r).about, result.shift) + 0.5));
  return result;
}

/// What each column costs beyond what the rules count for, times 2^shift.
std::vector<Integer> left_over(const ExactProgram& program, const Rounded& y, Objective objective) {
  std::vector<Integer> left(program.columns(), 0);
  if (objective == Objective::cost)
    for (std::size_t j = 0; j < left.size(); ++j)
      left[j] = program.cost(j) << static_cast<unsigned>(y.shift);
  for (std::size_t r = 0; r < y.number.size(); ++r) {
    if (y.number[r] == 0) continue;
    for (const auto& [j, value] : program.row(r).entries) left[j] -= y.number[r] * value;
  }
  return left;
}

/// A row that takes some of every material: the maximum of the total.
std::optional<std::size_t> total_maximum(const ExactProgram& program) {
  for (std::size_t r = 0; r < program.size(); ++r)
    if (program.rule(r).is_maximum && program.rule(r).kind == RuleKind::total) return r;
  return std::nullopt;
}

/// Counts a little more of the total's maximum, which makes every material dearer.
void nudge_total(const ExactProgram& program, const Scope& scope, std::size_t total,
                 const std::vector<Integer>& left, Rounded& y) {
  Integer most = 0;
  for (const auto& [j, value] : program.row(total).entries)
    if (!scope.out[j] && left[j] < 0)
      most = std::max(most, Integer((-left[j] - value - 1) / -value));
  y.number[total] += most;
  const std::size_t opposite = program.opposite(total);
  if (opposite == total) return;
  const Integer both = std::min(y.number[total], y.number[opposite]);
  y.number[total] -= both;
  y.number[opposite] -= both;
}

/// Takes all multipliers a little smaller, which leaves a little of every cost.
bool shrink(const ExactProgram& program, const Scope& scope, const std::vector<Integer>& left,
            Rounded& y) {
  constexpr unsigned bits = 40;
  Integer most = 0;
  for (std::size_t j = 0; j < left.size(); ++j) {
    if (scope.out[j] || left[j] >= 0) continue;
    const Integer room = (program.cost(j) << static_cast<unsigned>(y.shift)) - left[j];
    if (program.cost(j) <= 0) return false;
    most = std::max(most, Integer(((-left[j] << bits) + room - 1) / room));
  }
  const Integer keep = (Integer(1) << bits) - most;
  if (most == 0) return true;
  if (keep <= 0) return false;
  for (auto& number : y.number) number *= keep;
  y.shift += static_cast<int>(bits);
  return true;
}

}  // namespace

Hints::Hints(const ExactProgram& program, const model::Model& model,
             const solver::LinearProgram& relaxation)
    : program_(program),
      data_(relaxation),
      of_row_(static_cast<std::size_t>(model.rows)),
      of_column_(static_cast<std::size_t>(model.columns)) {
  for (std::size_t r = 0; r < program.size(); ++r) {
    const auto& rule = program.rule(r);
    if (rule.model_row < 0 && rule.model_column < 0) continue;
    auto& sides = rule.model_row >= 0 ? of_row_[static_cast<std::size_t>(rule.model_row)]
                                      : of_column_[static_cast<std::size_t>(rule.model_column)];
    (rule.is_maximum ? sides.max : sides.min).push_back(r);
  }
}

std::optional<std::size_t> Hints::tightest(const std::vector<std::size_t>& rows,
                                           const Scope& scope) const {
  std::optional<std::size_t> best;
  for (const std::size_t r : rows)
    if (scope.holds[r] && (!best || program_.rule(r).limit > program_.rule(*best).limit)) best = r;
  return best;
}

Hints::Reduced Hints::reduced(std::span<const double> y, Objective objective) const {
  Reduced result{std::vector<double>(data_.cost.size(), 0.0), {}};
  if (objective == Objective::cost) result.cost = data_.cost;
  for (const double cost : result.cost) result.size.push_back(std::fabs(cost));
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0) continue;
    for (int e = data_.row_start[i]; e < data_.row_start[i + 1]; ++e) {
      const auto& entry = data_.entries[static_cast<std::size_t>(e)];
      const auto j = static_cast<std::size_t>(entry.column);
      result.cost[j] -= entry.value * y[i];
      result.size[j] += std::fabs(entry.value * y[i]);
    }
  }
  return result;
}

std::vector<double> Hints::multipliers(const Scope& scope, std::span<const double> y,
                                       Objective objective) const {
  std::vector<double> result(program_.size(), 0.0);
  const auto count = [&](const Sides& sides, double amount) {
    const auto row = tightest(amount > 0 ? sides.min : sides.max, scope);
    if (row) result[*row] += std::fabs(amount);
  };
  for (std::size_t i = 0; i < y.size(); ++i)
    if (y[i] != 0) count(of_row_[i], y[i]);
  const auto [cost, size] = reduced(y, objective);
  for (std::size_t j = 0; j < cost.size(); ++j) {
    if (std::fabs(cost[j]) <= noise * size[j]) continue;
    if (j < scope.out.size() && scope.out[j]) continue;
    count(of_column_[j], cost[j]);
  }
  return result;
}

Guess Hints::guess(const Scope& scope, std::span<const double> y, Objective objective) const {
  Guess guess{std::vector<char>(program_.size(), 0), std::vector<char>(program_.columns(), 0)};
  const auto weights = multipliers(scope, y, objective);
  for (std::size_t r = 0; r < weights.size(); ++r) guess.rows[r] = weights[r] > 0;
  const auto [cost, size] = reduced(y, objective);
  for (std::size_t j = 0; j < guess.columns.size(); ++j) {
    const bool bounded =
        tightest(cost[j] > 0 ? of_column_[j].min : of_column_[j].max, scope).has_value();
    guess.columns[j] = std::fabs(cost[j]) <= noise * size[j] || bounded;
  }
  return guess;
}

std::optional<CaseProof> rounded_proof(const ExactProgram& program, const Scope& scope,
                                       const std::vector<double>& multipliers,
                                       Objective objective) {
  auto y = rounded(program, multipliers);
  if (!y) return std::nullopt;
  const auto left = left_over(program, *y, objective);
  bool signs_hold = true;
  for (std::size_t j = 0; j < left.size(); ++j)
    signs_hold = signs_hold && (scope.out[j] || left[j] >= 0);
  if (!signs_hold) {
    if (const auto total = total_maximum(program))
      nudge_total(program, scope, *total, left, *y);
    else if (objective == Objective::nothing || !shrink(program, scope, left, *y))
      return std::nullopt;
  }
  CaseProof proof;
  Integer bound = 0;
  const Integer denominator = Integer(1) << static_cast<unsigned>(y->shift);
  for (std::size_t r = 0; r < y->number.size(); ++r) {
    if (y->number[r] == 0) continue;
    bound += y->number[r] * program.row(r).limit;
    proof.multipliers.emplace_back(
        r, Rational(program.row_scale(r).exactly * Rational(y->number[r], denominator)));
  }
  proof.bound = Rational(bound, denominator);
  return proof;
}

}  // namespace leastwise::proof

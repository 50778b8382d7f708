#include "solver/node_program.hpp"

namespace leastwise::solver {

NodeProgram::NodeProgram(const model::Model& model, const Deadline& deadline,
                         const std::stop_token& stop)
    : model_(model), deadline_(deadline), stop_(stop), data_(relaxation(model)), program_(data_) {}

void NodeProgram::lay(const NodeBounds& bounds) {
  for (std::size_t j = 0; j < data_.lower.size(); ++j) {
    if (data_.lower[j] == bounds.lower[j] && data_.upper[j] == bounds.upper[j]) continue;
    data_.lower[j] = bounds.lower[j];
    data_.upper[j] = bounds.upper[j];
    program_.set_column_bounds(static_cast<int>(j), bounds.lower[j], bounds.upper[j]);
  }
  for (std::size_t k = 0; k < model_.minima.size(); ++k) {
    if (model_.minima[k].row < 0 || !model_.minima[k].active) continue;
    const auto row = static_cast<std::size_t>(model_.minima[k].row);
    const double lower = bounds.minimum_on[k] ? 0 : -model::infinity;
    if (data_.row_lower[row] == lower) continue;
    data_.row_lower[row] = lower;
    program_.set_row_bounds(model_.minima[k].row, lower, model::infinity);
  }
}

DualProof NodeProgram::bound(const NodeBounds& bounds, std::span<const double> y) {
  lay(bounds);
  return dual_proof(data_, y);
}

bool NodeProgram::impossible(const NodeBounds& bounds, std::span<const double> y) {
  lay(bounds);
  return contradicts(data_, y);
}

NodeOutcome NodeProgram::solve(const NodeBounds& bounds) {
  lay(bounds);
  exact_basis_ = {};
  const auto outcome = settle(program_.solve(deadline_));
  if (outcome != NodeOutcome::failed) return outcome;
  program_ = LinearProgram(data_);  // without the worn factorisation
  const auto again = settle(program_.solve(deadline_));
  return again == NodeOutcome::failed ? settle_exactly() : again;
}

/// What CLP says, as far as it can be verified; `failed` when it cannot.
NodeOutcome NodeProgram::settle(LinearStatus status) {
  switch (status) {
    case LinearStatus::optimal:
      x_.assign(program_.values().begin(), program_.values().end());
      y_.assign(program_.duals().begin(), program_.duals().end());
      clear_traces(data_, x_);
      clean_duals(data_, y_);
      if (verified()) return NodeOutcome::solved;
      break;
    case LinearStatus::infeasible:
      if (proved_infeasible()) return NodeOutcome::infeasible;
      break;
    case LinearStatus::time_limit:
      return NodeOutcome::interrupted;
    case LinearStatus::failed:
      break;
  }
  return NodeOutcome::failed;
}

NodeOutcome NodeProgram::settle_exactly() {
  try {
    auto end = solve_without_rounding(data_, basis(), exact::patience_until(deadline_, stop_));
    if (end.status == LinearStatus::infeasible) {
      y_ = std::move(end.y);  // checked as fractions; as doubles they may miss what rounding hides
      return NodeOutcome::infeasible;
    }
    if (end.status != LinearStatus::optimal) return NodeOutcome::failed;
    x_ = std::move(end.x);
    y_ = std::move(end.y);
    exact_basis_ = std::move(end.basis);
    return verified() ? NodeOutcome::solved : NodeOutcome::failed;
  } catch (const exact::Interrupted&) {
    return NodeOutcome::interrupted;
  }
}

/// Recomputes everything about the solution from the model's own numbers.
bool NodeProgram::verified() {
  violation_ = primal_violation(data_, x_);
  proof_ = dual_proof(data_, y_);
  return violation_ <= certificate_tolerance && proof_.violation <= certificate_tolerance &&
         optimality_gap(data_, x_, proof_) <= gap_tolerance;
}

bool NodeProgram::proved_infeasible() {
  y_ = program_.infeasibility_multipliers();
  if (!y_.empty() && contradicts(data_, y_)) return true;
  y_ = prove_infeasible(data_, deadline_);
  return !y_.empty();
}

Basis NodeProgram::basis() const {
  if (!exact_basis_.columns.empty()) return exact_basis_;
  Basis basis;
  for (int j = 0; j < data_.columns; ++j) basis.columns.push_back(program_.column_standing(j));
  for (int i = 0; i < data_.rows; ++i) basis.rows.push_back(program_.row_standing(i));
  return basis;
}

}  // namespace leastwise::solver

#include "solver/node_program.hpp"

#include <algorithm>
#include <utility>

#include "solver/basis_values.hpp"

namespace leastwise::solver {

NodeProgram::NodeProgram(const model::Model& model, const base::Deadline& deadline,
                         const std::stop_token& stop)
    : model_(model), deadline_(deadline), stop_(stop), program_(relaxation(model)) {}

void NodeProgram::lay(const NodeBounds& bounds) {
  const auto& data = program_.data();
  for (std::size_t j = 0; j < data.lower.size(); ++j)
    if (data.lower[j] != bounds.lower[j] || data.upper[j] != bounds.upper[j])
      program_.set_column_bounds(static_cast<int>(j), bounds.lower[j], bounds.upper[j]);
  for (std::size_t k = 0; k < model_.minima.size(); ++k) {
    const int row = model_.minima[k].row;
    if (row < 0 || !model_.minima[k].active) continue;
    const double lower = bounds.minimum_on[k] ? 0 : -model::infinity;
    if (data.row_lower[static_cast<std::size_t>(row)] != lower)
      program_.set_row_bounds(row, lower, model::infinity);
  }
}

void NodeProgram::follow_model() {
  const auto& data = program_.data();
  const auto same = [](const model::Entry& a, const model::Entry& b) { return a.value == b.value; };
  if (!std::equal(data.entries.begin(), data.entries.end(), model_.entries.begin(), same)) {
    const auto start = program_.warm_start();
    program_ = LpSolver(relaxation(model_));
    program_.set_warm_start(start);
    return;
  }
  for (int i = 0; i < data.rows; ++i) {
    const auto r = static_cast<std::size_t>(i);
    if (data.row_lower[r] != model_.row_lower[r] || data.row_upper[r] != model_.row_upper[r])
      program_.set_row_bounds(i, model_.row_lower[r], model_.row_upper[r]);
  }
}

DualProof NodeProgram::bound(const NodeBounds& bounds, std::span<const double> y) {
  lay(bounds);
  return dual_proof(data(), y);
}

bool NodeProgram::impossible(const NodeBounds& bounds, std::span<const double> y) {
  lay(bounds);
  return contradicts(data(), y);
}

NodeOutcome NodeProgram::solve(const NodeBounds& bounds) {
  lay(bounds);
  return refereed(settle(program_.solve(deadline_)));
}

NodeOutcome NodeProgram::solve_below(const NodeBounds& bounds, double cutoff) {
  lay(bounds);
  const auto status = program_.solve(deadline_, cutoff);
  if (status != LinearStatus::dearer) return refereed(settle(status));
  if (proved_dearer(cutoff)) return NodeOutcome::dearer;
  return refereed(settle(program_.solve(deadline_)));
}

/// Whether the duals of a basis on the way already bound the cost by `cutoff`.
bool NodeProgram::proved_dearer(double cutoff) {
  exact_basis_ = {};
  y_.assign(program_.duals().begin(), program_.duals().end());
  clean_duals(data(), y_);
  proof_ = dual_proof(data(), y_);
  return proof_.violation <= certificate_tolerance && proof_.bound >= cutoff;
}

NodeOutcome NodeProgram::solve_question(const NodeBounds& bounds, bool as_clp) {
  lay(bounds);
  if (as_clp && program_.is_small()) {
    const auto outcome = settle(program_.solve(deadline_));
    if (outcome == NodeOutcome::infeasible || outcome == NodeOutcome::interrupted) return outcome;
    if (outcome == NodeOutcome::solved && settle_on_basis()) return outcome;
    program_ = LpSolver(LinearProgram(program_.data()));
  }
  const auto outcome = refereed(settle(program_.solve_by_clp(deadline_)));
  if (outcome == NodeOutcome::solved) settle_on_basis();
  return outcome;
}

/// Works the solution out anew from its basis. Returns: false, with nothing changed, where that
/// basis may not be the only optimal one.
bool NodeProgram::settle_on_basis() {
  BasisValues values;
  if (!exact_basis_.columns.empty() || !find_basis_values(data(), program_.warm_start(), values))
    return false;
  const auto x = std::exchange(x_, std::move(values.x));
  const auto y = std::exchange(y_, std::move(values.y));
  round_small_to_zero(data(), x_);
  clean_duals(data(), y_);
  if (!verified()) {
    x_ = x;
    y_ = y;
    (void)verified();
    return false;
  }
  program_.begin_at(values.start);
  return true;
}

/// `outcome`, or what CLP and then exact arithmetic say where it could not be verified.
NodeOutcome NodeProgram::refereed(NodeOutcome outcome) {
  if (outcome == NodeOutcome::failed) outcome = settle(program_.solve_afresh(deadline_));
  return outcome == NodeOutcome::failed ? settle_exactly() : outcome;
}

/// What a solver says, as far as it can be verified; `failed` when it cannot.
NodeOutcome NodeProgram::settle(LinearStatus status) {
  exact_basis_ = {};
  switch (status) {
    case LinearStatus::optimal:
      x_.assign(program_.values().begin(), program_.values().end());
      y_.assign(program_.duals().begin(), program_.duals().end());
      round_small_to_zero(data(), x_);
      clean_duals(data(), y_);
      if (verified()) return NodeOutcome::solved;
      break;
    case LinearStatus::infeasible:
      if (proved_infeasible()) return NodeOutcome::infeasible;
      break;
    case LinearStatus::time_limit:
      return NodeOutcome::interrupted;
    case LinearStatus::dearer:
    case LinearStatus::failed:
      break;
  }
  return NodeOutcome::failed;
}

NodeOutcome NodeProgram::settle_exactly() {
  try {
    auto end = solve_without_rounding(data(), basis(), base::stop_check_until(deadline_, stop_));
    if (end.status == LinearStatus::infeasible) {
      y_ = std::move(end.y);  // checked as fractions; as doubles they may miss what rounding hides
      return NodeOutcome::infeasible;
    }
    if (end.status != LinearStatus::optimal) return NodeOutcome::failed;
    x_ = std::move(end.x);
    y_ = std::move(end.y);
    exact_basis_ = std::move(end.basis);
    return verified() ? NodeOutcome::solved : NodeOutcome::failed;
  } catch (const base::Interrupted&) {
    return NodeOutcome::interrupted;
  }
}

/// Recomputes everything about the solution from the model's own numbers.
bool NodeProgram::verified() {
  violation_ = primal_violation(data(), x_);
  proof_ = dual_proof(data(), y_);
  return violation_ <= certificate_tolerance && proof_.violation <= certificate_tolerance &&
         optimality_gap(data(), x_, proof_) <= gap_tolerance;
}

bool NodeProgram::proved_infeasible() {
  y_ = program_.infeasibility_multipliers();
  if (!y_.empty() && contradicts(data(), y_)) return true;
  y_ = prove_infeasible(data(), deadline_);
  return !y_.empty();
}

Basis NodeProgram::basis() const {
  if (!exact_basis_.columns.empty()) return exact_basis_;
  Basis basis;
  for (int j = 0; j < data().columns; ++j) basis.columns.push_back(program_.column_standing(j));
  for (int i = 0; i < data().rows; ++i) basis.rows.push_back(program_.row_standing(i));
  return basis;
}

}  // namespace leastwise::solver

#pragma once
#include <span>
#include <stop_token>
#include <vector>

#include "solver/branching.hpp"
#include "solver/certificate.hpp"
#include "solver/exact_solve.hpp"
#include "solver/lp_solver.hpp"

namespace leastwise::solver {

/// How one linear program of the search ended.
enum class NodeOutcome {
  solved,
  dearer,  ///< nothing is cheaper than the cutoff: `y` and `proof` bound the cost
  infeasible,
  interrupted,
  failed,
};

/// The linear program of a model under the bounds of one node of the search after another.
///
/// Nothing is taken on a solver's word: an optimum counts once it is recomputed from the model's
/// own numbers, infeasibility once multipliers add the rows up to a contradiction. Where that
/// fails, CLP starts afresh, and where it fails too, the program is solved in exact fractions. A
/// contradiction found there is added up in fractions too: it may be smaller than rounding.
class NodeProgram {
 public:
  NodeProgram(const model::Model& model, const base::Deadline& deadline,
              const std::stop_token& stop);

  NodeOutcome solve(const NodeBounds& bounds);
  /// The same where only what costs less than `cutoff` is of interest.
  NodeOutcome solve_below(const NodeBounds& bounds, double cutoff);
  /// Takes over limits and coefficients that the model has changed since, from the present basis.
  void follow_model();
  /// The same for the question that a user asked, by CLP, or `as_clp`: by the kernel where its
  /// basis proves to be the only optimal one. Values of such a basis are worked out from it alone,
  /// so that they have the same digits whichever way led there.
  NodeOutcome solve_question(const NodeBounds& bounds, bool as_clp);

  /// What the duals `y` prove under these bounds, without solving.
  DualProof bound(const NodeBounds& bounds, std::span<const double> y);
  /// Whether the multipliers `y` contradict these bounds.
  bool impossible(const NodeBounds& bounds, std::span<const double> y);

  /// The program solved last, with the bounds of its node.
  [[nodiscard]] const LinearProgram& data() const { return program_.data(); }
  [[nodiscard]] const std::vector<double>& x() const { return x_; }  ///< after `solved`
  /// After `solved` the duals; after `infeasible` multipliers of a contradiction.
  [[nodiscard]] const std::vector<double>& y() const { return y_; }
  [[nodiscard]] const DualProof& proof() const { return proof_; }
  [[nodiscard]] double violation() const { return violation_; }
  [[nodiscard]] Basis basis() const;

  [[nodiscard]] const WarmStart& warm_start() const { return program_.warm_start(); }
  void set_warm_start(const WarmStart& start) { program_.set_warm_start(start); }

 private:
  void lay(const NodeBounds& bounds);
  bool proved_dearer(double cutoff);
  bool settle_on_basis();
  NodeOutcome refereed(NodeOutcome outcome);
  NodeOutcome settle(LinearStatus status);
  NodeOutcome settle_exactly();
  bool verified();
  bool proved_infeasible();

  const model::Model& model_;
  const base::Deadline& deadline_;
  const std::stop_token& stop_;
  LpSolver program_;
  std::vector<double> x_{};
  std::vector<double> y_{};
  DualProof proof_{};
  double violation_ = 0;
  Basis exact_basis_{};  ///< when the last one was solved in fractions
};

}  // namespace leastwise::solver

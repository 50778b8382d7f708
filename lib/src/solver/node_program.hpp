#pragma once
#include <span>
#include <stop_token>
#include <vector>

#include "solver/branching.hpp"
#include "solver/certificate.hpp"
#include "solver/exact_solve.hpp"
#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// How one linear program of the search ended.
enum class NodeOutcome { solved, infeasible, interrupted, failed };

/// The linear program of a model under the bounds of one node of the search after another.
///
/// Nothing is taken on CLP's word: an optimum counts once it is recomputed from the model's own
/// numbers, infeasibility once multipliers add the rows up to a contradiction. Where that fails,
/// CLP starts afresh, and where it fails again, the program is solved in exact fractions. A
/// contradiction found there is added up in fractions too: it may be smaller than rounding.
class NodeProgram {
 public:
  NodeProgram(const model::Model& model, const Deadline& deadline, const std::stop_token& stop);

  NodeOutcome solve(const NodeBounds& bounds);

  /// What the duals `y` prove under these bounds, without solving.
  DualProof bound(const NodeBounds& bounds, std::span<const double> y);
  /// Whether the multipliers `y` contradict these bounds.
  bool impossible(const NodeBounds& bounds, std::span<const double> y);

  /// The program solved last, with the bounds of its node.
  [[nodiscard]] const LinearData& data() const { return data_; }
  [[nodiscard]] const std::vector<double>& x() const { return x_; }  ///< after `solved`
  /// After `solved` the duals; after `infeasible` multipliers of a contradiction.
  [[nodiscard]] const std::vector<double>& y() const { return y_; }
  [[nodiscard]] const DualProof& proof() const { return proof_; }
  [[nodiscard]] double violation() const { return violation_; }
  [[nodiscard]] Basis basis() const;

  [[nodiscard]] WarmStart warm_start() const { return program_.warm_start(); }
  void set_warm_start(const WarmStart& start) { program_.set_warm_start(start); }

 private:
  void lay(const NodeBounds& bounds);
  NodeOutcome settle(LinearStatus status);
  NodeOutcome settle_exactly();
  bool verified();
  bool proved_infeasible();

  const model::Model& model_;
  const Deadline& deadline_;
  const std::stop_token& stop_;
  LinearData data_;
  LinearProgram program_;
  std::vector<double> x_{};
  std::vector<double> y_{};
  DualProof proof_{};
  double violation_ = 0;
  Basis exact_basis_{};  ///< when the last one was solved in fractions
};

}  // namespace leastwise::solver

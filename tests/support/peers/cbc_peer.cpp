#include <CbcHeuristic.hpp>
#include <CbcModel.hpp>
#include <CglClique.hpp>
#include <CglFlowCover.hpp>
#include <CglGomory.hpp>
#include <CglKnapsackCover.hpp>
#include <CglMixedIntegerRounding2.hpp>
#include <CglProbing.hpp>
#include <OsiClpSolverInterface.hpp>
#include <cmath>

#include "support/peers/mixed_integer.hpp"

namespace leastwise::support {
namespace {

void load(OsiClpSolverInterface& solver, const MixedInteger& program) {
  solver.messageHandler()->setLogLevel(0);
  solver.getModelPtr()->setLogLevel(0);
  solver.setHintParam(OsiDoReducePrint, true, OsiHintTry);
  CoinPackedMatrix matrix(false, 0, 0);
  matrix.setDimensions(0, static_cast<int>(program.columns.size()));
  std::vector<double> row_lower, row_upper;
  const auto plain = [](double x) {
    return std::isfinite(x) ? x : x > 0 ? COIN_DBL_MAX : -COIN_DBL_MAX;
  };
  for (const Row& row : program.rows) {
    std::vector<int> index;
    std::vector<double> value;
    for (const auto& [column, coefficient] : row.entries) {
      index.push_back(column);
      value.push_back(coefficient);
    }
    matrix.appendRow(static_cast<int>(index.size()), index.data(), value.data());
    row_lower.push_back(plain(row.lower));
    row_upper.push_back(plain(row.upper));
  }
  std::vector<double> lower, upper, cost;
  for (const Column& column : program.columns) {
    lower.push_back(plain(column.lower));
    upper.push_back(plain(column.upper));
    cost.push_back(column.cost);
  }
  solver.loadProblem(matrix, lower.data(), upper.data(), cost.data(), row_lower.data(),
                     row_upper.data());
  for (std::size_t j = 0; j < program.columns.size(); ++j)
    if (program.columns[j].binary) solver.setInteger(static_cast<int>(j));
}

/// Solves the continuous problem afresh at tight tolerances.
PeerAnswer tight(OsiClpSolverInterface& solver, std::size_t amounts) {
  PeerAnswer answer;
  ClpSimplex& model = *solver.getModelPtr();
  model.setPrimalTolerance(1e-9);
  model.setDualTolerance(1e-9);
  model.allSlackBasis();
  model.dual();
  if (model.status() == 1) answer.status = PeerStatus::infeasible;
  if (model.status() != 0) return answer;
  answer.status = PeerStatus::optimal;
  answer.cost = answer.searched_cost = model.objectiveValue();
  const double* x = model.primalColumnSolution();
  answer.amounts.assign(x, x + amounts);
  return answer;
}

/// The cut generators of CBC's own sample driver, at the frequencies it uses.
void add_cuts(CbcModel& model) {
  CglProbing probing;
  probing.setUsingObjective(1);
  probing.setMaxPass(1);
  probing.setMaxPassRoot(5);
  probing.setMaxProbe(10);
  probing.setMaxProbeRoot(1000);
  probing.setMaxLook(50);
  probing.setMaxLookRoot(500);
  probing.setRowCuts(3);
  CglGomory gomory;
  gomory.setLimit(300);
  CglKnapsackCover knapsack;
  CglClique clique;
  clique.setStarCliqueReport(false);
  clique.setRowCliqueReport(false);
  CglMixedIntegerRounding2 rounding;
  CglFlowCover flow;
  model.addCutGenerator(&probing, -1, "Probing");
  model.addCutGenerator(&gomory, -1, "Gomory");
  model.addCutGenerator(&knapsack, -1, "Knapsack");
  model.addCutGenerator(&clique, -1, "Clique");
  model.addCutGenerator(&flow, -1, "FlowCover");
  model.addCutGenerator(&rounding, -1, "Rounding");
  CbcRounding heuristic(model);
  model.addHeuristic(&heuristic);
}

}  // namespace

PeerAnswer solve_with_cbc(const MixedInteger& program, const PeerOptions& options) {
  OsiClpSolverInterface solver;
  load(solver, program);
  if (solver.getNumIntegers() == 0) return tight(solver, program.amounts);
  CbcModel model(solver);
  model.setLogLevel(0);
  model.messageHandler()->setLogLevel(0);
  model.solver()->messageHandler()->setLogLevel(0);
  model.setAllowableGap(0);
  model.setAllowableFractionGap(0);
  model.setDblParam(CbcModel::CbcCutoffIncrement, 0);
  model.setIntegerTolerance(1e-8);
  model.setMaximumSeconds(options.seconds);
  if (!options.plain) add_cuts(model);
  PeerAnswer answer;
  model.initialSolve();
  if (model.solver()->isProvenPrimalInfeasible()) {
    answer.status = PeerStatus::infeasible;
    return answer;
  }
  model.branchAndBound();
  if (model.isProvenInfeasible()) answer.status = PeerStatus::infeasible;
  if (!model.isProvenOptimal()) return answer;
  answer.status = PeerStatus::optimal;
  answer.cost = answer.searched_cost = model.getObjValue();
  if (!options.refine) return answer;
  const double* best = model.bestSolution();
  for (std::size_t j = program.amounts; j < program.columns.size(); ++j) {
    const double at = std::round(best[j]);
    solver.setColBounds(static_cast<int>(j), at, at);
    solver.setContinuous(static_cast<int>(j));
  }
  PeerAnswer refined = tight(solver, program.amounts);
  refined.searched_cost = answer.searched_cost;
  return refined;
}

}  // namespace leastwise::support

#pragma once
#include <leastwise/progress.hpp>

#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <vector>

#include "model/model.hpp"
#include "solver/lp_solver.hpp"

namespace leastwise::solver {

/// One step of the search: a choice that splits the blends in two without losing any.
struct Decision {
  enum class Kind {
    family_out,      ///< no material of family `index`
    neighbours_out,  ///< no material of any family kept apart from family `index`
    column_out,      ///< the column stays at zero
    column_on,       ///< the column keeps its minimum if used
    group_out,       ///< no granular material of family `index`
    group_in,        ///< family `index` holds at least one bin
    column_in,       ///< the column holds a bin
  };
  Kind kind = Kind::family_out;
  int index = 0;
};

/// A part of the search that is settled, with what settles it.
struct Leaf {
  enum class Outcome { bounded, infeasible };
  std::vector<Decision> path{};
  Outcome outcome = Outcome::bounded;
  /// Duals that bound the cost from below, or multipliers of a contradiction; empty when two
  /// decisions contradict each other on a column's bounds.
  std::vector<double> multipliers{};
  WarmStart start{};  ///< the basis it ended at; empty without multipliers
};

enum class SearchStatus { optimal, infeasible, time_limit, cancelled, failed };

/// Counts the linear programs of one call over all its searches, and tells of them.
struct SolveCounter {
  ProgressCallback told{};
  long solves = 0;

  void count() { told({"linear programs", ++solves, 0}); }
};

/// Who solves the linear program without either-or rules.
enum class Root {
  kernel,  ///< as all others: for the questions around that of a user
  clp,     ///< of blends of equal cost the one that CLP finds is the answer
  as_clp,  ///< the kernel where its basis proves to be the only optimal one, else CLP
};

struct SearchOptions {
  base::Deadline deadline{};
  std::stop_token stop{};
  std::shared_ptr<SolveCounter> counter{};  ///< for one thread; nobody is told without it
  /// Only blends cheaper than this are of interest; `infeasible` then means: none is.
  double cutoff = model::infinity;
  /// Any blend will do: stop at the first.
  bool any = false;
  bool record_leaves = false;
  Root root = Root::kernel;
  /// All leaves of a finished search of a model with the same rows and columns, to go on from:
  /// limits, contents, costs and either-or rules may be others. They must outlive the search.
  std::span<const Leaf> leaves{};
};

/// Why a search ends before its time: somebody asked, or the deadline has passed.
[[nodiscard]] std::optional<SearchStatus> interrupted(const SearchOptions& options);

/// `options` for the question a user asked, not for one of those around it.
[[nodiscard]] inline SearchOptions asked(SearchOptions options, Root root = Root::clp) {
  options.root = root;
  return options;
}

struct SearchResult {
  SearchStatus status = SearchStatus::failed;
  bool has_blend = false;  ///< `x` holds a checked blend (also when a limit struck)
  std::vector<double> x{};
  double cost = 0;
  double lower_bound = -model::infinity;  ///< proved; equals `cost` when optimal
  long nodes = 0;
  /// The linear program in which `x` is optimal: the model's with the bounds of its branch.
  LinearProgram leaf{};
  std::vector<double> y{};  ///< duals of `leaf`
  std::vector<BasisStatus> column_standing{};
  std::vector<BasisStatus> row_standing{};
  std::vector<Decision> path{};
  std::vector<Leaf> leaves{};
  double primal_violation = 0;
  double dual_violation = 0;
};

/// The cheapest x of `model` that also obeys its either-or rules, with proof.
///
/// Branches on bounds only: no binaries. Best bound first with plunging; ties by order of
/// creation, so equal input gives equal output.
[[nodiscard]] SearchResult search(const model::Model& model, const SearchOptions& options = {});

}  // namespace leastwise::solver

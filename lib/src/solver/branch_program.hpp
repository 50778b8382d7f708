#pragma once
#include <span>
#include <vector>

#include "solver/branching.hpp"
#include "solver/node_program.hpp"
#include "solver/search.hpp"

namespace leastwise::solver {

/// The linear program of one branch of a model, kept warm while the model's limits move.
///
/// Either-or rules that the path leaves open are ignored. `model` and `options` must outlive it.
class BranchProgram {
 public:
  BranchProgram(const model::Model& model, std::vector<Decision> path,
                const SearchOptions& options);

  /// The best x under the model's present limits, counted. Where there is none, `y` contradicts
  /// `leaf`; both are empty when two decisions, or two limits, contradict each other by themselves.
  [[nodiscard]] SearchResult solve();
  /// The same with column `j` held at `amount`.
  [[nodiscard]] SearchResult solve_with(std::size_t j, double amount);

 private:
  [[nodiscard]] SearchResult settle();

  const model::Model& model_;
  std::vector<Decision> path_;
  const SearchOptions& options_;
  Branching branching_;
  NodeProgram program_;
  NodeBounds bounds_{};
};

/// Writes into `result` what `program` has solved: the blend at the end of `path`.
void take_blend(const model::Model& model, const NodeProgram& program,
                std::span<const Decision> path, SearchResult& result);

}  // namespace leastwise::solver

#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "solver/branching.hpp"
#include "solver/dense_simplex.hpp"
#include "solver/search.hpp"

namespace leastwise::analysis {

/// What all searches of one scenario share.
struct PriceModel {
  explicit PriceModel(const model::Model& source);

  const model::Model& model;
  solver::LinearProgram data;
  solver::Branching branching;
  bool either_or = false;

  [[nodiscard]] std::size_t columns() const { return data.cost.size(); }
  /// About what a known basis takes.
  [[nodiscard]] std::size_t bytes_of_basis() const {
    return 8 * (data.row_lower.size() + 8) * (columns() + 8);
  }
};

/// Blends side by side, so that the cheapest at given costs is found in one pass. When it is full
/// the one that has been of least use makes room.
class CostTable {
 public:
  CostTable(std::size_t columns, std::size_t capacity);

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] bool full() const { return size_ == capacity_; }
  /// Returns: the slot that `x` now has.
  std::size_t add(const std::vector<double>& x);
  /// The slot of the cheapest; the table must not be empty.
  [[nodiscard]] std::size_t cheapest(const std::vector<double>& cost);
  void credit(std::size_t slot) { ++uses_[slot]; }

 private:
  std::size_t capacity_;
  std::size_t size_ = 0;
  std::size_t added_ = 0;
  std::vector<std::vector<double>> amount_;  ///< by column; empty where no blend has any
  std::vector<std::size_t> columns_used_{};
  std::vector<long> uses_;
  std::vector<double> costs_;
};

/// A basis that was checked against the scenario's rows, and the blend it stands for.
struct Vertex {
  solver::DenseState state;
  solver::WarmStart basis{};
  std::vector<double> x{};
  bool feasible = true;    ///< every either-or rule
  std::size_t recipe = 0;  ///< when it obeys
};

/// A part of the blends, by either-or decisions, with the bases that are known in it.
struct PriceBranch {
  PriceBranch(std::size_t columns, std::size_t capacity) : known(columns, capacity) {}

  std::vector<solver::Decision> path{};
  bool infeasible = false;
  CostTable known;
  std::vector<std::shared_ptr<const Vertex>> vertices{};  ///< by slot of `known`
  std::optional<std::pair<std::size_t, std::size_t>> children{};
};

/// Finds the cheapest blend at one set of costs after another, each with proof, and remembers what
/// may serve again: bases, recipes and the branches of the either-or search.
///
/// What it answers depends on what it was asked before only in the last bits and in the choice
/// between recipes of equal cost. Copies are independent.
class PriceSearch {
 public:
  PriceSearch(const PriceModel& shared, const solver::SearchOptions& options);

  struct Answer {
    solver::SearchStatus status = solver::SearchStatus::optimal;
    double cost = 0;
    std::size_t recipe = 0;
    bool searched = false;  ///< by a full search: no known basis could be brought to a proof
  };

  /// `cost` runs along the model's columns.
  [[nodiscard]] Answer cheapest(const std::vector<double>& cost);

  /// Every recipe that was the cheapest or might be, as columns of the model.
  [[nodiscard]] const std::vector<std::vector<double>>& recipes() const { return recipes_; }
  [[nodiscard]] std::size_t recipe_of(const std::vector<double>& x);

 private:
  [[nodiscard]] bool visit(std::size_t node, const std::vector<double>& cost);
  [[nodiscard]] const Vertex* known_here(std::size_t node);
  [[nodiscard]] const Vertex* admit(std::size_t node, const std::vector<double>& cost);
  static void remember(PriceBranch& branch, const std::shared_ptr<const Vertex>& vertex);
  [[nodiscard]] bool read_proved(const std::vector<double>& cost, std::vector<double>& x);
  [[nodiscard]] bool open_root();
  [[nodiscard]] bool split(std::size_t node, const Vertex& vertex, const std::vector<double>& cost);
  [[nodiscard]] bool open_child(std::size_t child, const Vertex& vertex,
                                const std::vector<double>& cost);
  [[nodiscard]] bool proved_infeasible();
  /// Lays the bounds of a branch on the program that is checked. Returns: false if they cross.
  [[nodiscard]] bool apply_bounds(const PriceBranch& branch);
  [[nodiscard]] Answer full_search(const std::vector<double>& cost);
  [[nodiscard]] double cutoff() const;
  [[nodiscard]] bool out_of_time();

  const PriceModel* shared_;
  const solver::SearchOptions* options_;
  solver::LinearProgram data_;  ///< with the costs and bounds that are being checked
  solver::DenseSimplex simplex_;
  solver::NodeBounds bounds_{};
  std::vector<PriceBranch> branches_{};
  std::vector<std::vector<double>> recipes_{};
  /// By the columns in use.
  std::map<std::vector<bool>, std::vector<std::size_t>> by_support_{};
  CostTable obeying_;                          ///< recipes to begin with
  std::vector<std::size_t> obeying_recipe_{};  ///< by slot of `obeying_`
  double best_cost_ = model::infinity;
  std::optional<std::size_t> best_recipe_{};
  bool usable_ = true;  ///< false: every draw takes a full search
  long given_up_ = 0;   ///< of the draws of late
  long full_searches_to_go_ = 0;
  long visits_ = 0;
  std::optional<solver::SearchStatus> stopped_{};
};

}  // namespace leastwise::analysis

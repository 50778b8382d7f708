#pragma once
#include <cstddef>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// A copy of a model of which one limit at a time is moved, with its linear programs kept warm.
class MovingModel {
 public:
  /// `original` and `options` must outlive it.
  MovingModel(const model::Model& original, const solver::SearchOptions& options);
  MovingModel(const MovingModel&) = delete;
  MovingModel& operator=(const MovingModel&) = delete;
  MovingModel(MovingModel&&) = delete;
  MovingModel& operator=(MovingModel&&) = delete;
  ~MovingModel() = default;

  [[nodiscard]] const model::Model& original() const { return original_; }
  [[nodiscard]] const solver::SearchOptions& options() const { return options_; }

  /// The model with rule `r` at `limit` and every other limit as it was: what `model::at_limit`
  /// makes of the original, to the last bit. Good until the next call.
  const model::Model& at(std::size_t r, double limit);

 private:
  void restore(std::size_t r);

  const model::Model& original_;
  const solver::SearchOptions& options_;
  model::Model moved_;
  int at_rule_ = -1;  ///< the rule that is not where it was
};

}  // namespace leastwise::solve

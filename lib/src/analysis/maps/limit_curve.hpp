#pragma once
#include <leastwise/limit_map.hpp>

#include <cstddef>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::analysis {

/// The least cost at one limit, and how it rises there.
struct Tangent {
  double limit = 0;
  double cost = 0;
  double slope = 0;  ///< a subgradient: the cost lies on or above the line through here
  std::vector<double> kg{};

  [[nodiscard]] double at(double other) const { return cost + slope * (other - limit); }
};

/// The least cost as `rules` move together: exactly from kink to kink, or sampled.
class LimitCurve {
 public:
  LimitCurve(const Scenario& scenario, model::Model model, std::vector<std::size_t> rules,
             const solver::SearchOptions& options)
      : scenario_(scenario),
        model_(std::move(model)),
        rules_(std::move(rules)),
        options_(options) {}

  /// The curve from one limit to another, exactly. Returns: false when a time limit or a request
  /// ended it, see `status`; `points` has what was found.
  bool follow(double from, double to);
  /// The curve at these limits, without a claim between them. Returns: as `follow`.
  bool sample(const std::vector<double>& limits);

  [[nodiscard]] std::vector<LimitPoint> points() const;
  [[nodiscard]] long solves() const { return solves_; }
  [[nodiscard]] solver::SearchStatus status() const { return status_; }

 private:
  bool solve(double limit, Tangent& tangent);
  bool solve_near(double limit, double inward, Tangent& tangent);
  void round_small_to_zero(Tangent& tangent) const;
  bool between(const Tangent& left, const Tangent& right);
  static double place_between(const Tangent& left, const Tangent& right, double tolerance);
  [[nodiscard]] bool is_straight(std::size_t first, std::size_t last) const;
  void drop_straight();
  [[nodiscard]] std::vector<Note> cautions_between(std::size_t k) const;

  const Scenario& scenario_;
  model::Model model_;
  std::vector<std::size_t> rules_;
  const solver::SearchOptions& options_;
  std::vector<Tangent> found_{};
  std::vector<LimitPoint> sampled_{};
  solver::SearchStatus status_ = solver::SearchStatus::optimal;
  long solves_ = 0;
};

}  // namespace leastwise::analysis

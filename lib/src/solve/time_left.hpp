#pragma once
#include <leastwise/solve_options.hpp>

#include <algorithm>
#include <chrono>
#include <utility>

namespace leastwise::solve {

/// What is left of the time limit of a call that asks several questions, from its making on.
class TimeLeft {
 public:
  explicit TimeLeft(SolveOptions asked) : asked_(std::move(asked)) {}

  [[nodiscard]] const SolveOptions& asked() const { return asked_; }

  /// As asked, within the time that is left: a microsecond where it is up.
  [[nodiscard]] SolveOptions options() const {
    constexpr Seconds least{1e-6};
    SolveOptions left = asked_;
    if (left.time_limit) left.time_limit = std::max(least, *left.time_limit - spent());
    return left;
  }

  /// The same, and nothing that needs solving again.
  [[nodiscard]] SolveOptions brief() const {
    SolveOptions left = options();
    left.intervals = false;
    return left;
  }

  /// Whether time is up or somebody asked to stop.
  [[nodiscard]] bool is_over() const {
    return asked_.stop.stop_requested() || (asked_.time_limit && spent() >= *asked_.time_limit);
  }

 private:
  using Seconds = std::chrono::duration<double>;
  [[nodiscard]] Seconds spent() const { return std::chrono::steady_clock::now() - start_; }

  SolveOptions asked_;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace leastwise::solve
